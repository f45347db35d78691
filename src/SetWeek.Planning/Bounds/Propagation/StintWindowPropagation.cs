using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// The calendar's longest path: for each stint and night, the earliest and latest that it could start and end, were its
/// display placed, given everything that must come before and after it. Begun work stands where it is.
/// Sound by induction over the passes: each tightening uses only a bound that every valid plan meets already.
/// A stint that no night can hold makes its display impossible; a must that is impossible makes the week impossible.
/// </summary>
internal sealed class StintWindowPropagation
{
    /// <summary>By stint and night. Null: the stint cannot lie in this night.</summary>
    private readonly StintTimeWindow?[][] windows;
    private readonly Problem problem;
    private readonly StartDomains startDomains;
    private readonly StintPrecedence[] precedences;
    private readonly int[] earliestEnd, latestStart;

    /// <summary>
    /// By stint: narrowed in the last pass, in this one. An edge between stints that were not is not looked at again.
    /// </summary>
    private readonly bool[] changedInLastPass, changedInThisPass;

    public StintWindowPropagation(Problem problem, StartDomains startDomains)
    {
        (this.problem, this.startDomains) = (problem, startDomains);
        precedences = [.. StintPrecedence.AllOf(problem)];
        Placement = new DisplayPlacement(problem);
        windows = [.. problem.Stints.Select(stint => problem.Nights.Select(night => InitialWindow(stint, night.Index)).ToArray())];
        (earliestEnd, latestStart) = (new int[windows.Length], new int[windows.Length]);
        (changedInLastPass, changedInThisPass) = (new bool[windows.Length], new bool[windows.Length]);
        for (var stint = 0; stint < windows.Length; stint++) UpdateExtremes(stint);
        Array.Fill(changedInLastPass, true);
        var (ahead, back) = (TopologicalOrder(), TopologicalOrder());
        Array.Reverse(back);
        // A pass in the order of the tasks settles nearly all; the limit only bounds the time, every pass is sound by itself.
        for (var (pass, changed) = (0, true); changed && pass < 12; pass++)
        {
            foreach (var edge in ahead)
                if (changedInLastPass[edge.Predecessor] || changedInThisPass[edge.Predecessor]) PropagateForward(edge);
            foreach (var edge in back)
                if (changedInLastPass[edge.Successor] || changedInThisPass[edge.Successor]) PropagateBackward(edge);
            changed = Array.IndexOf(changedInThisPass, true) >= 0;
            (changedInLastPass, changedInThisPass) = (changedInThisPass, changedInLastPass);
            Array.Clear(changedInThisPass);
            if (!Placement.Propagate(HasNight)) continue;
            changed = true;
            Array.Fill(changedInLastPass, true);
        }
    }

    public DisplayPlacement Placement { get; }
    public IReadOnlyList<StintPrecedence> Precedences => precedences;
    public StintTimeWindow? WindowOf(int stint, int night) => windows[stint][night];
    public bool HasNight(int stint) => Array.Exists(windows[stint], slot => slot is not null);
    public int FirstNight(int stint) => Array.FindIndex(windows[stint], slot => slot is not null);
    public int LastNight(int stint) => Array.FindLastIndex(windows[stint], slot => slot is not null);
    public int EarliestStart(int stint) => windows[stint].Min(slot => slot?.EarliestStart ?? Problem.Never);
    public int EarliestEnd(int stint) => earliestEnd[stint];
    public int LatestStart(int stint) => latestStart[stint];
    public int LatestEnd(int stint) => windows[stint].Max(slot => slot?.LatestEnd ?? -Problem.Never);

    /// <summary>The edge holds in every plan that places the display of the stint given.</summary>
    public bool Binds(StintPrecedence precedence, int placedStint)
    {
        int from = problem.Stints[precedence.Predecessor].Task.Display, to = problem.Stints[precedence.Successor].Task.Display;
        var here = problem.Stints[placedStint].Task.Display;
        return (from == here || Placement.AlwaysPlaced(from)) && (to == here || Placement.AlwaysPlaced(to));
    }

    private StintTimeWindow? InitialWindow(Stint stint, int night)
    {
        if (problem.Facts?.BegunWork[stint.Index] is { } begun)
            return begun.Night == night ? new(begun.From, begun.To, begun.From, begun.To) : null;
        var soonest = problem.Facts is { } facts ? Math.Max(facts.Now, facts.EarliestStarts[stint.Index]) : -Problem.Never;
        return Fit(stint, night, soonest, Problem.Never);
    }

    /// <summary>
    /// Earliest and latest times of a stint within a night, starting at or after one minute and ending by another.
    /// </summary>
    private StintTimeWindow? Fit(Stint stint, int night, int earliestStart, int latestEnd)
    {
        StintTimeWindow? fit = null;
        foreach (var mode in startDomains.AllowedModes(stint))
        {
            var minutes = problem.MinutesOf(stint, mode);
            var (first, last) = (Problem.Never, -Problem.Never);
            foreach (var range in startDomains.RangesOf(stint, mode, night))
            {
                var from = Math.Max(range.First, problem.NextSlot(night, earliestStart));
                var to = Math.Min(range.Last, SnapDown(night, latestEnd - minutes));
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

    private int SnapDown(int night, int minute)
    {
        var opens = problem.Nights[night].Opens;
        return minute < opens ? opens - 1 : opens + (minute - opens) / problem.Grid.SlotMinutes * problem.Grid.SlotMinutes;
    }

    private void PropagateForward(StintPrecedence precedence)
    {
        if (problem.Facts?.BegunWork[precedence.Successor] is not null || !Binds(precedence, precedence.Successor)) return;
        var lag = Math.Max(precedence.Lag, precedence.Successor == problem.LastTask?.FirstStint ? CleanDownAfter(precedence.Predecessor) : 0);
        for (var night = 0; night < windows[precedence.Successor].Length; night++)
        {
            if (windows[precedence.Successor][night] is not { } slot) continue;
            var end = precedence.SameNight ? windows[precedence.Predecessor][night]?.EarliestEnd ?? Problem.Never : earliestEnd[precedence.Predecessor];
            if (end + lag > slot.EarliestStart) Tighten(precedence.Successor, night, end + lag, slot.LatestEnd);
        }
    }

    private void PropagateBackward(StintPrecedence precedence)
    {
        if (problem.Facts?.BegunWork[precedence.Predecessor] is not null || problem.Facts?.BegunWork[precedence.Successor] is not null
            || !Binds(precedence, precedence.Predecessor)) return;
        var lag = Math.Max(precedence.Lag, precedence.Successor == problem.LastTask?.FirstStint ? CleanDownAfter(precedence.Predecessor) : 0);
        for (var night = 0; night < windows[precedence.Predecessor].Length; night++)
        {
            if (windows[precedence.Predecessor][night] is not { } slot) continue;
            var start = precedence.SameNight ? windows[precedence.Successor][night]?.LatestStart ?? -Problem.Never : latestStart[precedence.Successor];
            if (start - lag < slot.LatestEnd) Tighten(precedence.Predecessor, night, slot.EarliestStart, start - lag);
        }
    }

    /// <summary>Work that must be followed by its zone's clean-down that night keeps the last task waiting for it too.</summary>
    private int CleanDownAfter(int stint)
    {
        var task = problem.Stints[stint].Task;
        return task.IsLastTask || problem.Facts is not null ? 0 : problem.Zones[task.Zone].CleanDown?.Minutes ?? 0;
    }

    private void Tighten(int stint, int night, int earliestStart, int latestEnd)
    {
        var before = windows[stint][night];
        // Never plus a lag stays far above any minute of a week, and far below overflow.
        windows[stint][night] = earliestStart >= Problem.Never || latestEnd <= -Problem.Never ? null
            : Fit(problem.Stints[stint], night, earliestStart, latestEnd);
        if (windows[stint][night] == before) return;
        changedInThisPass[stint] = true;
        UpdateExtremes(stint);
    }

    private void UpdateExtremes(int stint)
    {
        var (end, start) = (Problem.Never, -Problem.Never);
        foreach (var slot in windows[stint])
            if (slot is { } here) (end, start) = (Math.Min(end, here.EarliestEnd), Math.Max(start, here.LatestStart));
        (earliestEnd[stint], latestStart[stint]) = (end, start);
    }

    /// <summary>Edges so that those into a stint come before those out of it, where the week has no cycle.</summary>
    private StintPrecedence[] TopologicalOrder()
    {
        var waiting = new int[problem.Stints.Count];
        foreach (var edge in precedences) waiting[edge.Successor]++;
        var ready = new Queue<int>(Enumerable.Range(0, waiting.Length).Where(stint => waiting[stint] == 0));
        var (leaving, rank, next) = (precedences.ToLookup(edge => edge.Predecessor), new int[waiting.Length], 0);
        while (ready.TryDequeue(out var stint))
        {
            rank[stint] = next++;
            foreach (var edge in leaving[stint])
                if (--waiting[edge.Successor] == 0) ready.Enqueue(edge.Successor);
        }
        return [.. precedences.OrderBy(edge => rank[edge.Predecessor])];
    }
}

/// <summary>Minutes between which a stint starts and ends, if it lies in a certain night.</summary>
internal readonly record struct StintTimeWindow(int EarliestStart, int EarliestEnd, int LatestStart, int LatestEnd);
