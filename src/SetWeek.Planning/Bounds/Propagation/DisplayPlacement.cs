using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Which displays stand in every valid plan and which in none, as far as is known: a must whose alternate cannot be built
/// stands, and so does the alternate of a must that cannot be built; work that has begun stays.
/// </summary>
internal sealed class DisplayPlacement
{
    private readonly Problem problem;
    private readonly bool[] alwaysPlaced, neverPlaced;

    public DisplayPlacement(Problem problem)
    {
        this.problem = problem;
        (alwaysPlaced, neverPlaced) = (new bool[problem.Displays.Count], new bool[problem.Displays.Count]);
        PropagateAlternates();
    }

    public bool AlwaysPlaced(int display) => alwaysPlaced[display];
    public bool NeverPlaced(int display) => neverPlaced[display];

    /// <summary>The display that makes the week impossible: it must stand and cannot.</summary>
    public IndexedDisplay? Contradiction => problem.Displays.FirstOrDefault(display => alwaysPlaced[display.Index] && neverPlaced[display.Index]);

    /// <summary>The value that has to be left out at least: wants that cannot be built, and what their alternates cost.</summary>
    public long MinLeftOutValue => problem.Displays
        .Where(display => display.AlternateOf is null && neverPlaced[display.Index])
        .Sum(display => (long)(display.Alternate is { } alternate && !neverPlaced[alternate]
            ? display.Must ? display.AlternateValue : Math.Min(display.Value, display.AlternateValue)
            : display.Value));

    /// <summary>Takes in which stints have a night left; true where something new follows.</summary>
    public bool Propagate(Func<int, bool> hasNight)
    {
        var changed = false;
        foreach (var display in problem.Displays.Where(display => !neverPlaced[display.Index]))
            foreach (var task in display.Tasks.Select(task => problem.Tasks[task]))
                for (var stint = 0; stint < task.StintCount && !neverPlaced[display.Index]; stint++)
                    if (!hasNight(task.FirstStint + stint)) changed = neverPlaced[display.Index] = true;
        return changed | PropagateAlternates();
    }

    private bool PropagateAlternates()
    {
        var changed = false;
        foreach (var display in problem.Displays)
        {
            var stays = problem.Facts?.StaysPlaced[display.Index] == true;
            var original = display.AlternateOf is { } index ? problem.Displays[index] : null;
            var stands = stays || (original is null
                ? display.Must && (display.Alternate is not { } alternate || neverPlaced[alternate])
                : original.Must && neverPlaced[original.Index]);
            if (stands && !alwaysPlaced[display.Index]) changed = alwaysPlaced[display.Index] = true;
            // Never both: where one of the pair stands, the other does not.
            var other = display.Alternate ?? display.AlternateOf;
            if (other is { } rival && alwaysPlaced[rival] && !alwaysPlaced[display.Index] && !neverPlaced[display.Index]) changed =
                neverPlaced[display.Index] = true;
        }
        return changed;
    }
}
