using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Which displays are placed in every valid plan and which in none, as far as propagation knows. A must whose alternate is
/// infeasible is always placed, and so is the alternate of an infeasible must. A display whose work has begun stays placed.
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

    /// <summary>A display that must be placed and cannot be: the week is infeasible. Null where there is none.</summary>
    public IndexedDisplay? Contradiction =>
        problem.Displays.FirstOrDefault(display => alwaysPlaced[display.Index] && neverPlaced[display.Index]);

    /// <summary>
    /// Lower bound on leftOut: for each display that is never placed, its own value or that of its alternate.
    /// </summary>
    public long MinLeftOutValue => problem.Displays
        .Where(display => display.AlternateOf is null && neverPlaced[display.Index])
        .Sum(display => (long)(display.Alternate is { } alternate && !neverPlaced[alternate]
            ? display.Must ? display.AlternateValue : Math.Min(display.Value, display.AlternateValue)
            : display.Value));

    /// <summary>
    /// Excludes each display that has a stint without a feasible night. True where anything changed.
    /// </summary>
    /// <param name="hasNight">By stint index: at least one night is left in its domain.</param>
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
            var hasBegun = problem.Facts?.StaysPlaced[display.Index] == true;
            var original = display.AlternateOf is { } index ? problem.Displays[index] : null;
            var isPlaced = hasBegun || (original is null
                ? display.Must && (display.Alternate is not { } alternate || neverPlaced[alternate])
                : original.Must && neverPlaced[original.Index]);
            if (isPlaced && !alwaysPlaced[display.Index]) changed = alwaysPlaced[display.Index] = true;
            // A display and its alternate exclude each other.
            if ((display.Alternate ?? display.AlternateOf) is { } counterpart && alwaysPlaced[counterpart]
                && !alwaysPlaced[display.Index] && !neverPlaced[display.Index])
                changed = neverPlaced[display.Index] = true;
        }
        return changed;
    }
}
