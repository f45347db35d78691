using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The work columns of the night master: which displays are placed, and in which night and mode each stint is done.
/// Why every valid plan meets the rows:
/// whole: a stint of a placed display lies in one night and is done in one mode; a display and its alternate exclude each other.
/// after, drying: if a stint lies in night n or earlier, its predecessor lies in a night in which it can end early enough for the
/// stint's latest start in n, the lag included.
/// same-night: a stint lies in a night only if its predecessor does.
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
        var placement = propagation.Windows.Placement;
        placed = [.. problem.Displays.Select(display =>
            model.NewColumn(placement.AlwaysPlaced(display.Index) ? 1 : 0, placement.NeverPlaced(display.Index) ? 0 : 1))];
        inModeAndNight = [.. problem.Stints.Select(CreateColumns)];
        foreach (var stint in problem.Stints)
            model.AddEqualsZero(LinearExpression.SumOf(problem.Nights.Select(night => InNight(stint.Index, night.Index)))
                .Add(Placed(stint), -1));
        AddAlternateRows();
        foreach (var precedence in propagation.Windows.Precedences) AddPrecedenceRows(precedence);
        CleanDownDue = [.. problem.Zones.Select(zone =>
            problem.Nights.Select(night => CreateCleanDownDue(zone, night.Index)).ToArray())];
    }

    /// <summary>By zone and night: 1 where the zone needs a clean-down; null where it cannot need one.</summary>
    public LinearExpression?[][] CleanDownDue { get; }

    public LinearExpression Placed(Stint stint) => placed[stint.Task.Display];
    public LinearExpression Placed(int display) => placed[display];

    /// <summary>Null: the stint cannot be done in that mode in that night.</summary>
    public LinearExpression? InModeAndNight(int stint, int mode, int night) => inModeAndNight[stint][night][mode];

    public LinearExpression InNight(int stint, int night) =>
        LinearExpression.SumOf(inModeAndNight[stint][night].OfType<LinearExpression>());

    /// <summary>The columns of all stints that can lie in a night, one for each mode; begun work is left out.</summary>
    public IEnumerable<WorkColumn> ColumnsIn(int night) =>
        from stint in problem.Stints
        where problem.Facts?.BegunWork[stint.Index] is null
        from mode in Enumerable.Range(0, stint.Task.Modes.Count)
        let column = inModeAndNight[stint.Index][night][mode]
        where column is not null
        select new WorkColumn(stint, stint.Task.Modes[mode], problem.MinutesOf(stint, mode), column);

    private LinearExpression?[][] CreateColumns(Stint stint) =>
        [.. problem.Nights.Select(night => Enumerable.Range(0, stint.Task.Modes.Count).Select(mode =>
            problem.Facts?.BegunWork[stint.Index] is { } begun
                ? begun.Night == night.Index && begun.Mode == mode ? new LinearExpression().Add(1) : null
                : IsPossible(stint, mode, night.Index) ? model.NewBinary(night.Index) : null).ToArray())];

    private bool IsPossible(Stint stint, int mode, int night)
    {
        if (propagation.Windows.WindowOf(stint.Index, night) is not { } window
            || propagation.Windows.Placement.NeverPlaced(stint.Task.Display)) return false;
        var minutes = problem.MinutesOf(stint, mode);
        return propagation.StartDomains.AllowedModes(stint).Contains(mode)
            && propagation.StartDomains.RangesOf(stint, mode, night)
                .Any(range => Math.Max(range.First, window.EarliestStart) <= Math.Min(range.Last, window.LatestEnd - minutes));
    }

    /// <summary>At most one of a display and its alternate is placed; exactly one where the display is a must.</summary>
    private void AddAlternateRows()
    {
        foreach (var display in problem.Displays)
        {
            var both = new LinearExpression().Add(placed[display.Index]);
            if (display.Alternate is { } alternate && problem.Displays[alternate].Tasks.Count > 0) both.Add(placed[alternate]);
            else if (display.Alternate is not null || display.AlternateOf is not null) continue;
            // Where work of both has begun, both stay placed.
            if (!(display.Alternate is { } begunAlternate && problem.Facts is { } facts && facts.StaysPlaced[display.Index]
                && facts.StaysPlaced[begunAlternate])) model.AddAtMostZero(new LinearExpression().Add(both).Add(-1));
            if (display.Must) model.AddAtMostZero(new LinearExpression().Add(1).Add(both, -1));
        }
    }

    private void AddPrecedenceRows(StintPrecedence precedence)
    {
        if (problem.Facts?.BegunWork[precedence.Successor] is not null) return;
        var (from, to) = (problem.Stints[precedence.Predecessor], problem.Stints[precedence.Successor]);
        // If the predecessor's display is not placed, the precedence does not bind: the slack is then 1.
        var slack = from.Task.Display == to.Task.Display || propagation.Windows.Placement.AlwaysPlaced(from.Task.Display)
            ? new LinearExpression() : new LinearExpression().Add(1).Add(Placed(from), -1);
        // The last night in which the predecessor can lie if the successor lies in the night at hand or earlier.
        var lastBefore = -1;
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (propagation.Windows.WindowOf(precedence.Successor, night) is not { } window) continue;
            for (var before = night; before > lastBefore; before--)
                if (propagation.Windows.WindowOf(precedence.Predecessor, before) is { } earlier
                    && earlier.EarliestEnd + precedence.Lag <= window.LatestStart) lastBefore = before;
            if (precedence.SameNight)
                model.AddAtMostZero(new LinearExpression().Add(InNight(precedence.Successor, night))
                    .Add(InNight(precedence.Predecessor, night), -1).Add(slack, -1));
            else if (lastBefore < propagation.Windows.LastNight(precedence.Predecessor) || slack.Terms.Count > 0)
                model.AddAtMostZero(InNightsUpTo(precedence.Successor, night)
                    .Add(InNightsUpTo(precedence.Predecessor, lastBefore), -1).Add(slack, -1));
        }
    }

    private LinearExpression InNightsUpTo(int stint, int lastNight) =>
        LinearExpression.SumOf(Enumerable.Range(0, lastNight + 1).Select(night => InNight(stint, night)));

    private LinearExpression? CreateCleanDownDue(IndexedZone zone, int night)
    {
        if (zone.CleanDown is null || propagation.ShiftWindows.HasBegun(night)) return null;
        var stintsOfZone = problem.Stints.Where(stint => stint.Task.Zone == zone.Index && !stint.Task.IsLastTask)
            .Select(stint => InNight(stint.Index, night)).Where(sum => !sum.IsZero).ToArray();
        if (stintsOfZone.Length == 0) return null;
        var isDue = model.NewBinary(night);
        foreach (var inNight in stintsOfZone) model.AddAtMostZero(new LinearExpression().Add(inNight).Add(isDue, -1));
        return isDue;
    }
}

/// <summary>A stint in one mode and one night.</summary>
/// <param name="Stint">The stint.</param>
/// <param name="Mode">The mode in which it is done.</param>
/// <param name="Minutes">Its length in that mode; what remains of it where it was begun and blocked.</param>
/// <param name="IsDone">The column: 1 where the stint is done in that mode in that night.</param>
internal readonly record struct WorkColumn(Stint Stint, ActivityMode Mode, int Minutes, LinearExpression IsDone);
