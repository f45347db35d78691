namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// The calendar's longest path: for each stint and night, the earliest and latest that it could start and end, were its
/// display placed, given everything that must come before and after it. Begun work stands where it is.
/// Sound by induction over the passes: each tightening uses only a bound that every valid plan meets already.
/// A stint that no night can hold makes its display impossible; a must that is impossible makes the week impossible.
/// </summary>
internal sealed class StintWindows
{
    /// <summary>By stint and night. Null: the stint cannot lie in this night.</summary>
    private readonly NightSlot?[][] slots;
    private readonly Problem problem;
    private readonly StartRooms starts;
    private readonly Edge[] edges;

    public StintWindows(Problem problem, StartRooms starts)
    {
        (this.problem, this.starts) = (problem, starts);
        edges = [.. Edge.Of(problem)];
        Placing = new Placing(problem);
        slots = [.. problem.Stints.Select(stint => problem.Nights.Select(night => Alone(stint, night.Index)).ToArray())];
        // A pass in the order of the tasks settles nearly all; the limit only bounds the time, every pass is sound by itself.
        var (ahead, back) = (InOrder(), InOrder());
        Array.Reverse(back);
        for (var (pass, changed) = (0, true); changed && pass < 12; pass++)
        {
            changed = false;
            foreach (var edge in ahead) changed |= Push(edge);
            foreach (var edge in back) changed |= Pull(edge);
            changed |= Placing.Rule(stint => slots[stint].Any(slot => slot is not null));
        }
    }

    public Placing Placing { get; }
    public IReadOnlyList<Edge> Edges => edges;
    public NightSlot? Of(int stint, int night) => slots[stint][night];
    public bool Possible(int stint) => Array.Exists(slots[stint], slot => slot is not null);
    public int FirstNight(int stint) => Array.FindIndex(slots[stint], slot => slot is not null);
    public int LastNight(int stint) => Array.FindLastIndex(slots[stint], slot => slot is not null);
    public int EarliestStart(int stint) => slots[stint].Min(slot => slot?.EarliestStart ?? Problem.Never);
    public int EarliestEnd(int stint) => slots[stint].Min(slot => slot?.EarliestEnd ?? Problem.Never);
    public int LatestStart(int stint) => slots[stint].Max(slot => slot?.LatestStart ?? -Problem.Never);
    public int LatestEnd(int stint) => slots[stint].Max(slot => slot?.LatestEnd ?? -Problem.Never);

    /// <summary>The edge holds in every plan that places the display of the stint given.</summary>
    public bool Binds(Edge edge, int placed)
    {
        int from = problem.Stints[edge.From].Task.Display, to = problem.Stints[edge.To].Task.Display;
        var here = problem.Stints[placed].Task.Display;
        return (from == here || Placing.Sure(from)) && (to == here || Placing.Sure(to));
    }

    private NightSlot? Alone(Stint stint, int night)
    {
        if (problem.Facts?.Begun[stint.Index] is { } begun)
            return begun.Night == night ? new(begun.From, begun.To, begun.From, begun.To) : null;
        var soonest = problem.Facts is { } facts ? Math.Max(facts.Now, facts.NotBefore[stint.Index]) : -Problem.Never;
        return Fit(stint, night, soonest, Problem.Never);
    }

    /// <summary>Earliest and latest times of a stint within a night, starting at or after one minute and ending by another.</summary>
    private NightSlot? Fit(Stint stint, int night, int soonest, int end)
    {
        NightSlot? fit = null;
        foreach (var mode in starts.Modes(stint))
        {
            var minutes = problem.MinutesOf(stint, mode);
            var (first, last) = (Problem.Never, -Problem.Never);
            foreach (var range in starts.Of(stint, mode, night))
            {
                var from = Math.Max(range.First, problem.NextSlot(night, soonest));
                var to = Math.Min(range.Last, Down(night, end - minutes));
                if (from <= to) (first, last) = (Math.Min(first, from), Math.Max(last, to));
            }
            if (first > last) continue;
            fit = fit is { } so
                ? new(Math.Min(so.EarliestStart, first), Math.Min(so.EarliestEnd, first + minutes), Math.Max(so.LatestStart, last), Math.Max(so.LatestEnd, last + minutes))
                : new(first, first + minutes, last, last + minutes);
        }
        return fit;
    }

    private int Down(int night, int minute)
    {
        var opens = problem.Nights[night].Opens;
        return minute < opens ? opens - 1 : opens + (minute - opens) / problem.Grid.Minutes * problem.Grid.Minutes;
    }

    private bool Push(Edge edge)
    {
        if (problem.Facts?.Begun[edge.To] is not null || !Binds(edge, edge.To)) return false;
        var changed = false;
        var after = EarliestEnd(edge.From);
        var down = edge.To == problem.LastActivity?.FirstStint && !edge.SameNight ? CleanDownAfter(edge.From) : 0;
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (slots[edge.To][night] is not { } slot) continue;
            var end = edge.SameNight ? slots[edge.From][night]?.EarliestEnd ?? Problem.Never : after;
            changed |= Set(edge.To, night, Math.Max(slot.EarliestStart, end + Math.Max(edge.Lag, down)), slot.LatestEnd);
        }
        return changed;
    }

    private bool Pull(Edge edge)
    {
        if (problem.Facts?.Begun[edge.From] is not null || problem.Facts?.Begun[edge.To] is not null || !Binds(edge, edge.From)) return false;
        var changed = false;
        var before = LatestStart(edge.To);
        var down = edge.To == problem.LastActivity?.FirstStint ? CleanDownAfter(edge.From) : 0;
        for (var night = 0; night < problem.Nights.Count; night++)
        {
            if (slots[edge.From][night] is not { } slot) continue;
            var start = edge.SameNight ? slots[edge.To][night]?.LatestStart ?? -Problem.Never : before;
            changed |= Set(edge.From, night, slot.EarliestStart, Math.Min(slot.LatestEnd, start - Math.Max(edge.Lag, down)));
        }
        return changed;
    }

    /// <summary>Work that must be followed by its zone's clean-down that night keeps the last task waiting for it too.</summary>
    private int CleanDownAfter(int stint)
    {
        var task = problem.Stints[stint].Task;
        return task.Last || problem.Facts is not null ? 0 : problem.Zones[task.Zone].CleanDown?.Minutes ?? 0;
    }

    private bool Set(int stint, int night, int soonest, int end)
    {
        var before = slots[stint][night];
        if (before is { } slot && soonest <= slot.EarliestStart && end >= slot.LatestEnd) return false;
        // Never plus a lag stays far above any minute of a week, and far below overflow.
        slots[stint][night] = soonest >= Problem.Never || end <= -Problem.Never ? null : Fit(problem.Stints[stint], night, soonest, end);
        return slots[stint][night] != before;
    }

    /// <summary>Edges so that those into a stint come before those out of it, where the week has no cycle.</summary>
    private Edge[] InOrder()
    {
        var waiting = new int[problem.Stints.Count];
        foreach (var edge in edges) waiting[edge.To]++;
        var ready = new Queue<int>(Enumerable.Range(0, waiting.Length).Where(stint => waiting[stint] == 0));
        var (leaving, rank, next) = (edges.ToLookup(edge => edge.From), new int[waiting.Length], 0);
        while (ready.TryDequeue(out var stint))
        {
            rank[stint] = next++;
            foreach (var edge in leaving[stint])
                if (--waiting[edge.To] == 0) ready.Enqueue(edge.To);
        }
        return [.. edges.OrderBy(edge => rank[edge.From])];
    }
}

/// <summary>Minutes between which a stint starts and ends, if it lies in a certain night.</summary>
internal readonly record struct NightSlot(int EarliestStart, int EarliestEnd, int LatestStart, int LatestEnd);
