using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Which displays stand in every valid plan and which in none, as far as is known: a must whose alternate cannot be built
/// stands, and so does the alternate of a must that cannot be built; work that has begun stays.
/// </summary>
internal sealed class Placing
{
    private readonly Problem problem;
    private readonly bool[] sure, impossible;

    public Placing(Problem problem)
    {
        this.problem = problem;
        (sure, impossible) = (new bool[problem.Displays.Count], new bool[problem.Displays.Count]);
        Conclude();
    }

    public bool Sure(int display) => sure[display];
    public bool Impossible(int display) => impossible[display];

    /// <summary>The display that makes the week impossible: it must stand and cannot.</summary>
    public Exhibit? Contradiction => problem.Displays.FirstOrDefault(display => sure[display.Index] && impossible[display.Index]);

    /// <summary>The value that has to be left out at least: wants that cannot be built, and what their alternates cost.</summary>
    public long LeftOut => problem.Displays
        .Where(display => display.InsteadOf is null && impossible[display.Index])
        .Sum(display => (long)(display.Alternate is { } alternate && !impossible[alternate]
            ? display.Must ? display.AlternateValue : Math.Min(display.Value, display.AlternateValue)
            : display.Value));

    /// <summary>Takes in which stints have a night left; true where something new follows.</summary>
    public bool Rule(Func<int, bool> possible)
    {
        var changed = false;
        foreach (var display in problem.Displays.Where(display => !impossible[display.Index]))
            foreach (var task in display.Tasks.Select(task => problem.Activities[task]))
                for (var stint = 0; stint < task.StintCount && !impossible[display.Index]; stint++)
                    if (!possible(task.FirstStint + stint)) changed = impossible[display.Index] = true;
        return changed | Conclude();
    }

    private bool Conclude()
    {
        var changed = false;
        foreach (var display in problem.Displays)
        {
            var stays = problem.Facts?.StaysPlaced[display.Index] == true;
            var original = display.InsteadOf is { } index ? problem.Displays[index] : null;
            var stands = stays || (original is null
                ? display.Must && (display.Alternate is not { } alternate || impossible[alternate])
                : original.Must && impossible[original.Index]);
            if (stands && !sure[display.Index]) changed = sure[display.Index] = true;
            // Never both: where one of the pair stands, the other does not.
            var other = display.Alternate ?? display.InsteadOf;
            if (other is { } rival && sure[rival] && !sure[display.Index] && !impossible[display.Index]) changed =
                impossible[display.Index] = true;
        }
        return changed;
    }
}
