using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The work of the night master: which displays stand, and in which night and way each stint is done.
/// Rows, and why every valid plan keeps them: whole (a stint of a placed display lies in one night, in one way); never a
/// display and its alternate; after with drying, in nights: if j lies in a night up to n, what it waits for lies in a night
/// from which it can end and dry before j's latest start in n; same-night.
/// </summary>
internal sealed class WorkColumns
{
    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly LinearModel model;
    private readonly LinearExpression[] placed;
    private readonly LinearExpression?[][][] inModeAndNight;

    public WorkColumns(Problem problem, RootPropagation propagation, LinearModel model)
    {
        (this.problem, this.propagation, this.model) = (problem, propagation, model);
        var placing = propagation.Windows.Placement;
        placed = [.. problem.Displays.Select(display =>
            model.NewColumn(placing.AlwaysPlaced(display.Index) ? 1 : 0, placing.NeverPlaced(display.Index) ? 0 : 1))];
        inModeAndNight = [.. problem.Stints.Select(CreateColumns)];
        foreach (var stint in problem.Stints)
            model.AddEqualsZero(LinearExpression.SumOf(problem.Nights.Select(night => InNight(stint.Index, night.Index))).Add(Placed(stint), -1));
        AddAlternateRows();
        foreach (var edge in propagation.Windows.Precedences) AddPrecedenceRows(edge);
        CleanDownDue = [.. problem.Zones.Select(zone => problem.Nights.Select(night => CreateCleanDownDue(zone, night.Index)).ToArray())];
    }

    /// <summary>By zone and night: a clean-down is due there; null where none can be.</summary>
    public LinearExpression?[][] CleanDownDue { get; }

    public LinearExpression Placed(Stint stint) => placed[stint.Task.Display];
    public LinearExpression Placed(int display) => placed[display];

    /// <summary>Null: the stint cannot be done that way in that night.</summary>
    public LinearExpression? InModeAndNight(int stint, int mode, int night) => inModeAndNight[stint][night][mode];

    public LinearExpression InNight(int stint, int night) => LinearExpression.SumOf(inModeAndNight[stint][night].OfType<LinearExpression>());

    /// <summary>Stints that can lie in a night, with the way and its column; begun work is not counted.</summary>
    public IEnumerable<(Stint Stint, ActivityMode Way, int Minutes, LinearExpression At)> ColumnsIn(int night) =>
        from stint in problem.Stints
        where problem.Facts?.BegunWork[stint.Index] is null
        from mode in Enumerable.Range(0, stint.Task.Modes.Count)
        let column = inModeAndNight[stint.Index][night][mode]
        where column is not null
        select (stint, stint.Task.Modes[mode], problem.MinutesOf(stint, mode), column);

    private LinearExpression?[][] CreateColumns(Stint stint) =>
        [.. problem.Nights.Select(night => Enumerable.Range(0, stint.Task.Modes.Count).Select(mode =>
        problem.Facts?.BegunWork[stint.Index] is { } begun ? begun.Night == night.Index && begun.Mode == mode ? new LinearExpression().Add(1)
            : null
        : IsPossible(stint, mode, night.Index) ? model.NewBinary(night.Index) : null).ToArray())];

    private bool IsPossible(Stint stint, int mode, int night)
    {
        if (propagation.Windows.WindowOf(stint.Index, night) is not { } slot
            || propagation.Windows.Placement.NeverPlaced(stint.Task.Display)) return false;
        var minutes = problem.MinutesOf(stint, mode);
        return propagation.StartDomains.AllowedModes(stint).Contains(mode) && propagation.StartDomains.RangesOf(stint, mode, night)
            .Any(range => Math.Max(range.First, slot.EarliestStart) <= Math.Min(range.Last, slot.LatestEnd - minutes));
    }

    /// <summary>A must or its alternate stands; never both.</summary>
    private void AddAlternateRows()
    {
        foreach (var display in problem.Displays)
        {
            var both = new LinearExpression().Add(placed[display.Index]);
            if (display.Alternate is { } alternate && problem.Displays[alternate].Tasks.Count > 0) both.Add(placed[alternate]);
            else if (display.Alternate is not null || display.AlternateOf is not null) continue;
            // A begun alternate beside its begun display is a fact.
            if (!(display.Alternate is { } other && problem.Facts is { } facts && facts.StaysPlaced[display.Index]
                && facts.StaysPlaced[other])) model.AddAtMostZero(new LinearExpression().Add(both).Add(-1));
            if (display.Must) model.AddAtMostZero(new LinearExpression().Add(1).Add(both, -1));
        }
    }

    private void AddPrecedenceRows(StintPrecedence precedence)
    {
        if (problem.Facts?.BegunWork[precedence.Successor] is not null) return;
        var (from, to) = (problem.Stints[precedence.Predecessor], problem.Stints[precedence.Successor]);
        // Where what is waited for may not stand, it then binds nothing.
        var slack = from.Task.Display == to.Task.Display || propagation.Windows.Placement.AlwaysPlaced(from.Task.Display)
            ? new LinearExpression() : new LinearExpression().Add(1).Add(Placed(from), -1);
        var reach = -1;
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (propagation.Windows.WindowOf(precedence.Successor, night) is not { } slot) continue;
            for (var before = night; before > reach; before--)
                if (propagation.Windows.WindowOf(precedence.Predecessor, before) is { } earlier
                    && earlier.EarliestEnd + precedence.Lag <= slot.LatestStart) reach = before;
            if (precedence.SameNight) model.AddAtMostZero(new LinearExpression().Add(InNight(precedence.Successor, night)).Add(InNight(precedence.Predecessor, night), -1).Add(slack, -1));
            else if (reach < propagation.Windows.LastNight(precedence.Predecessor) || slack.Terms.Count > 0)
                model.AddAtMostZero(InNightsUpTo(precedence.Successor, night).Add(InNightsUpTo(precedence.Predecessor, reach), -1).Add(slack, -1));
        }
    }

    private LinearExpression InNightsUpTo(int stint, int night) => LinearExpression.SumOf(Enumerable.Range(0, night + 1).Select(one => InNight(stint, one)));

    private LinearExpression? CreateCleanDownDue(IndexedZone zone, int night)
    {
        if (zone.CleanDown is null || propagation.ShiftWindows.HasBegun(night)) return null;
        var touching = problem.Stints.Where(stint => stint.Task.Zone == zone.Index && !stint.Task.IsLastTask)
            .Select(stint => InNight(stint.Index, night)).Where(sum => !sum.IsZero).ToArray();
        if (touching.Length == 0) return null;
        var touched = model.NewBinary(night);
        foreach (var stint in touching) model.AddAtMostZero(new LinearExpression().Add(stint).Add(touched, -1));
        return touched;
    }
}
