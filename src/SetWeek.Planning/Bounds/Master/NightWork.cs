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
internal sealed class NightWork
{
    private readonly Problem problem;
    private readonly Certificates known;
    private readonly RowModel rows;
    private readonly Sum[] placed;
    private readonly Sum?[][][] at;

    public NightWork(Problem problem, Certificates known, RowModel rows)
    {
        (this.problem, this.known, this.rows) = (problem, known, rows);
        var placing = known.Windows.Placing;
        placed = [.. problem.Displays.Select(display =>
            rows.Column(placing.Sure(display.Index) ? 1 : 0, placing.Impossible(display.Index) ? 0 : 1))];
        at = [.. problem.Stints.Select(Ways)];
        foreach (var stint in problem.Stints)
            rows.Zero(Sum.Of(problem.Nights.Select(night => In(stint.Index, night.Index))).And(Placed(stint), -1));
        Alternates();
        foreach (var edge in known.Windows.Edges) Order(edge);
        Touched = [.. problem.Zones.Select(zone => problem.Nights.Select(night => TouchedIn(zone, night.Index)).ToArray())];
    }

    /// <summary>By zone and night: a clean-down is due there; null where none can be.</summary>
    public Sum?[][] Touched { get; }

    public Sum Placed(Stint stint) => placed[stint.Task.Display];
    public Sum Placed(int display) => placed[display];

    /// <summary>Null: the stint cannot be done that way in that night.</summary>
    public Sum? At(int stint, int mode, int night) => at[stint][night][mode];

    public Sum In(int stint, int night) => Sum.Of(at[stint][night].OfType<Sum>());

    /// <summary>Stints that can lie in a night, with the way and its column; begun work is not counted.</summary>
    public IEnumerable<(Stint Stint, Way Way, int Minutes, Sum At)> Of(int night) =>
        from stint in problem.Stints
        where problem.Facts?.Begun[stint.Index] is null
        from mode in Enumerable.Range(0, stint.Task.Ways.Count)
        let column = at[stint.Index][night][mode]
        where column is not null
        select (stint, stint.Task.Ways[mode], problem.MinutesOf(stint, mode), column);

    private Sum?[][] Ways(Stint stint) =>
        [.. problem.Nights.Select(night => Enumerable.Range(0, stint.Task.Ways.Count).Select(mode =>
        problem.Facts?.Begun[stint.Index] is { } begun ? begun.Night == night.Index && begun.Mode == mode ? new Sum().And(1)
            : null
        : CanBe(stint, mode, night.Index) ? rows.Flag(night.Index) : null).ToArray())];

    private bool CanBe(Stint stint, int mode, int night)
    {
        if (known.Windows.Of(stint.Index, night) is not { } slot
            || known.Windows.Placing.Impossible(stint.Task.Display)) return false;
        var minutes = problem.MinutesOf(stint, mode);
        return known.Starts.Modes(stint).Contains(mode) && known.Starts.Of(stint, mode, night)
            .Any(range => Math.Max(range.First, slot.EarliestStart) <= Math.Min(range.Last, slot.LatestEnd - minutes));
    }

    /// <summary>A must or its alternate stands; never both.</summary>
    private void Alternates()
    {
        foreach (var display in problem.Displays)
        {
            var both = new Sum().And(placed[display.Index]);
            if (display.Alternate is { } alternate && problem.Displays[alternate].Tasks.Count > 0) both.And(placed[alternate]);
            else if (display.Alternate is not null || display.InsteadOf is not null) continue;
            // A begun alternate beside its begun display is a fact.
            if (!(display.Alternate is { } other && problem.Facts is { } facts && facts.StaysPlaced[display.Index]
                && facts.StaysPlaced[other])) rows.NotPositive(new Sum().And(both).And(-1));
            if (display.Must) rows.NotPositive(new Sum().And(1).And(both, -1));
        }
    }

    private void Order(Edge edge)
    {
        if (problem.Facts?.Begun[edge.To] is not null) return;
        var (from, to) = (problem.Stints[edge.From], problem.Stints[edge.To]);
        // Where what is waited for may not stand, it then binds nothing.
        var slack = from.Task.Display == to.Task.Display || known.Windows.Placing.Sure(from.Task.Display)
            ? new Sum() : new Sum().And(1).And(Placed(from), -1);
        var reach = -1;
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (known.Windows.Of(edge.To, night) is not { } slot) continue;
            for (var before = night; before > reach; before--)
                if (known.Windows.Of(edge.From, before) is { } earlier
                    && earlier.EarliestEnd + edge.Lag <= slot.LatestStart) reach = before;
            if (edge.SameNight) rows.NotPositive(new Sum().And(In(edge.To, night)).And(In(edge.From, night), -1).And(slack, -1));
            else if (reach < known.Windows.LastNight(edge.From) || slack.Terms.Count > 0)
                rows.NotPositive(Upto(edge.To, night).And(Upto(edge.From, reach), -1).And(slack, -1));
        }
    }

    private Sum Upto(int stint, int night) => Sum.Of(Enumerable.Range(0, night + 1).Select(one => In(stint, one)));

    private Sum? TouchedIn(ZoneRoom zone, int night)
    {
        if (zone.CleanDown is null || known.Crew.Begun(night)) return null;
        var touching = problem.Stints.Where(stint => stint.Task.Zone == zone.Index && !stint.Task.Last)
            .Select(stint => In(stint.Index, night)).Where(sum => !sum.IsZero).ToArray();
        if (touching.Length == 0) return null;
        var touched = rows.Flag(night);
        foreach (var stint in touching) rows.NotPositive(new Sum().And(stint).And(touched, -1));
        return touched;
    }
}
