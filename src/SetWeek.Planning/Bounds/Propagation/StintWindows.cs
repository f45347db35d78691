using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

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
    private readonly int[] earliestEnd, latestStart;

    /// <summary>
    /// By stint: narrowed in the last pass, in this one. An edge between stints that were not is not looked at again.
    /// </summary>
    private readonly bool[] moved, moving;

    public StintWindows(Problem problem, StartRooms starts)
    {
        (this.problem, this.starts) = (problem, starts);
        edges = [.. Edge.Of(problem)];
        Placing = new Placing(problem);
        slots = [.. problem.Stints.Select(stint => problem.Nights.Select(night => Alone(stint, night.Index)).ToArray())];
        (earliestEnd, latestStart) = (new int[slots.Length], new int[slots.Length]);
        (moved, moving) = (new bool[slots.Length], new bool[slots.Length]);
        for (var stint = 0; stint < slots.Length; stint++) Sum(stint);
        Array.Fill(moved, true);
        var (ahead, back) = (InOrder(), InOrder());
        Array.Reverse(back);
        // A pass in the order of the tasks settles nearly all; the limit only bounds the time, every pass is sound by itself.
        for (var (pass, changed) = (0, true); changed && pass < 12; pass++)
        {
            foreach (var edge in ahead)
                if (moved[edge.From] || moving[edge.From]) Push(edge);
            foreach (var edge in back)
                if (moved[edge.To] || moving[edge.To]) Pull(edge);
            changed = Array.IndexOf(moving, true) >= 0;
            (moved, moving) = (moving, moved);
            Array.Clear(moving);
            if (!Placing.Rule(Possible)) continue;
            changed = true;
            Array.Fill(moved, true);
        }
    }

    public Placing Placing { get; }
    public IReadOnlyList<Edge> Edges => edges;
    public NightSlot? Of(int stint, int night) => slots[stint][night];
    public bool Possible(int stint) => Array.Exists(slots[stint], slot => slot is not null);
    public int FirstNight(int stint) => Array.FindIndex(slots[stint], slot => slot is not null);
    public int LastNight(int stint) => Array.FindLastIndex(slots[stint], slot => slot is not null);
    public int EarliestStart(int stint) => slots[stint].Min(slot => slot?.EarliestStart ?? Problem.Never);
    public int EarliestEnd(int stint) => earliestEnd[stint];
    public int LatestStart(int stint) => latestStart[stint];
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

    /// <summary>
    /// Earliest and latest times of a stint within a night, starting at or after one minute and ending by another.
    /// </summary>
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
                ? new(Math.Min(so.EarliestStart, first), Math.Min(so.EarliestEnd, first + minutes),
                    Math.Max(so.LatestStart, last), Math.Max(so.LatestEnd, last + minutes))
                : new(first, first + minutes, last, last + minutes);
        }
        return fit;
    }

    private int Down(int night, int minute)
    {
        var opens = problem.Nights[night].Opens;
        return minute < opens ? opens - 1 : opens + (minute - opens) / problem.Grid.Minutes * problem.Grid.Minutes;
    }

    private void Push(Edge edge)
    {
        if (problem.Facts?.Begun[edge.To] is not null || !Binds(edge, edge.To)) return;
        var lag = Math.Max(edge.Lag, edge.To == problem.LastActivity?.FirstStint ? CleanDownAfter(edge.From) : 0);
        for (var night = 0; night < slots[edge.To].Length; night++)
        {
            if (slots[edge.To][night] is not { } slot) continue;
            var end = edge.SameNight ? slots[edge.From][night]?.EarliestEnd ?? Problem.Never : earliestEnd[edge.From];
            if (end + lag > slot.EarliestStart) Set(edge.To, night, end + lag, slot.LatestEnd);
        }
    }

    private void Pull(Edge edge)
    {
        if (problem.Facts?.Begun[edge.From] is not null || problem.Facts?.Begun[edge.To] is not null
            || !Binds(edge, edge.From)) return;
        var lag = Math.Max(edge.Lag, edge.To == problem.LastActivity?.FirstStint ? CleanDownAfter(edge.From) : 0);
        for (var night = 0; night < slots[edge.From].Length; night++)
        {
            if (slots[edge.From][night] is not { } slot) continue;
            var start = edge.SameNight ? slots[edge.To][night]?.LatestStart ?? -Problem.Never : latestStart[edge.To];
            if (start - lag < slot.LatestEnd) Set(edge.From, night, slot.EarliestStart, start - lag);
        }
    }

    /// <summary>Work that must be followed by its zone's clean-down that night keeps the last task waiting for it too.</summary>
    private int CleanDownAfter(int stint)
    {
        var task = problem.Stints[stint].Task;
        return task.Last || problem.Facts is not null ? 0 : problem.Zones[task.Zone].CleanDown?.Minutes ?? 0;
    }

    private void Set(int stint, int night, int soonest, int end)
    {
        var before = slots[stint][night];
        // Never plus a lag stays far above any minute of a week, and far below overflow.
        slots[stint][night] = soonest >= Problem.Never || end <= -Problem.Never ? null
            : Fit(problem.Stints[stint], night, soonest, end);
        if (slots[stint][night] == before) return;
        moving[stint] = true;
        Sum(stint);
    }

    private void Sum(int stint)
    {
        var (end, start) = (Problem.Never, -Problem.Never);
        foreach (var slot in slots[stint])
            if (slot is { } here) (end, start) = (Math.Min(end, here.EarliestEnd), Math.Max(start, here.LatestStart));
        (earliestEnd[stint], latestStart[stint]) = (end, start);
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
