using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Propagates precedences to time windows, as the critical-path method does but on a calendar. For each stint and night it gives
/// the earliest and latest start and end, on condition that the stint's display is placed. Begun work keeps its times.
/// Each step tightens a window by a bound that every valid plan meets, so the result is sound after any number of steps.
/// A display with a stint that fits no night is never placed; where it must be placed, the week is infeasible.
/// </summary>
internal sealed class StintWindowPropagation
{
    private const int MaxPasses = 12;

    /// <summary>By stint and night. Null: the stint cannot lie in that night.</summary>
    private readonly StintTimeWindow?[][] windows;
    private readonly Problem problem;
    private readonly StartDomains startDomains;
    private readonly StintPrecedence[] precedences;
    private readonly int[] earliestEnd, latestStart;

    /// <summary>
    /// By stint: its window was narrowed in the last pass, or in this one. A precedence is propagated again only where one of
    /// them is set.
    /// </summary>
    private readonly bool[] changedInLastPass, changedInThisPass;

    public StintWindowPropagation(Problem problem, StartDomains startDomains)
    {
        (this.problem, this.startDomains) = (problem, startDomains);
        precedences = [.. StintPrecedence.AllOf(problem)];
        Placement = new DisplayPlacement(problem);
        windows = [.. problem.Stints.Select(stint =>
            problem.Nights.Select(night => InitialWindow(stint, night.Index)).ToArray())];
        (earliestEnd, latestStart) = (new int[windows.Length], new int[windows.Length]);
        (changedInLastPass, changedInThisPass) = (new bool[windows.Length], new bool[windows.Length]);
        for (var stint = 0; stint < windows.Length; stint++) UpdateExtremes(stint);
        Array.Fill(changedInLastPass, true);
        var (forward, backward) = (TopologicalOrder(), TopologicalOrder());
        Array.Reverse(backward);
        // The first pass in topological order does nearly all of the work. The limit bounds the time only.
        for (var (pass, changed) = (0, true); changed && pass < MaxPasses; pass++)
        {
            foreach (var precedence in forward)
                if (changedInLastPass[precedence.Predecessor] || changedInThisPass[precedence.Predecessor])
                    PropagateForward(precedence);
            foreach (var precedence in backward)
                if (changedInLastPass[precedence.Successor] || changedInThisPass[precedence.Successor])
                    PropagateBackward(precedence);
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
    public bool HasNight(int stint) => Array.Exists(windows[stint], window => window is not null);
    public int FirstNight(int stint) => Array.FindIndex(windows[stint], window => window is not null);
    public int LastNight(int stint) => Array.FindLastIndex(windows[stint], window => window is not null);
    public int EarliestStart(int stint) => windows[stint].Min(window => window?.EarliestStart ?? Problem.Never);
    public int EarliestEnd(int stint) => earliestEnd[stint];
    public int LatestStart(int stint) => latestStart[stint];
    public int LatestEnd(int stint) => windows[stint].Max(window => window?.LatestEnd ?? -Problem.Never);

    /// <summary>The precedence holds in every plan that places the display of the given stint.</summary>
    public bool Binds(StintPrecedence precedence, int placedStint)
    {
        int from = problem.Stints[precedence.Predecessor].Task.Display, to = problem.Stints[precedence.Successor].Task.Display;
        var placed = problem.Stints[placedStint].Task.Display;
        return (from == placed || Placement.AlwaysPlaced(from)) && (to == placed || Placement.AlwaysPlaced(to));
    }

    private StintTimeWindow? InitialWindow(Stint stint, int night)
    {
        if (problem.Facts?.BegunWork[stint.Index] is { } begun)
            return begun.Night == night ? new(begun.From, begun.To, begun.From, begun.To) : null;
        var earliest = problem.Facts is { } facts ? Math.Max(facts.Now, facts.EarliestStarts[stint.Index]) : -Problem.Never;
        return Fit(stint, night, earliest, Problem.Never);
    }

    /// <summary>
    /// The stint's window in a night, over all allowed modes, if it starts no earlier than earliestStart and ends no later than
    /// latestEnd; null where it does not fit.
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
            fit = fit is { } window
                ? new(Math.Min(window.EarliestStart, first), Math.Min(window.EarliestEnd, first + minutes),
                    Math.Max(window.LatestStart, last), Math.Max(window.LatestEnd, last + minutes))
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
        var lag = LagOf(precedence);
        for (var night = 0; night < windows[precedence.Successor].Length; night++)
        {
            if (windows[precedence.Successor][night] is not { } window) continue;
            var end = precedence.SameNight
                ? windows[precedence.Predecessor][night]?.EarliestEnd ?? Problem.Never : earliestEnd[precedence.Predecessor];
            if (end + lag > window.EarliestStart) Tighten(precedence.Successor, night, end + lag, window.LatestEnd);
        }
    }

    private void PropagateBackward(StintPrecedence precedence)
    {
        if (problem.Facts?.BegunWork[precedence.Predecessor] is not null
            || problem.Facts?.BegunWork[precedence.Successor] is not null
            || !Binds(precedence, precedence.Predecessor)) return;
        var lag = LagOf(precedence);
        for (var night = 0; night < windows[precedence.Predecessor].Length; night++)
        {
            if (windows[precedence.Predecessor][night] is not { } window) continue;
            var start = precedence.SameNight
                ? windows[precedence.Successor][night]?.LatestStart ?? -Problem.Never : latestStart[precedence.Successor];
            if (start - lag < window.LatestEnd) Tighten(precedence.Predecessor, night, window.EarliestStart, start - lag);
        }
    }

    /// <summary>The last task also waits for the clean-down that the predecessor's work requires.</summary>
    private int LagOf(StintPrecedence precedence) => precedence.Successor != problem.LastTask?.FirstStint ? precedence.Lag
        : Math.Max(precedence.Lag, problem.CleanDownMinutesAfter(problem.Stints[precedence.Predecessor].Task));

    private void Tighten(int stint, int night, int earliestStart, int latestEnd)
    {
        var before = windows[stint][night];
        // Problem.Never plus a lag is above every minute of a week and does not overflow.
        windows[stint][night] = earliestStart >= Problem.Never || latestEnd <= -Problem.Never ? null
            : Fit(problem.Stints[stint], night, earliestStart, latestEnd);
        if (windows[stint][night] == before) return;
        changedInThisPass[stint] = true;
        UpdateExtremes(stint);
    }

    private void UpdateExtremes(int stint)
    {
        var (end, start) = (Problem.Never, -Problem.Never);
        foreach (var window in windows[stint])
            if (window is { } times) (end, start) = (Math.Min(end, times.EarliestEnd), Math.Max(start, times.LatestStart));
        (earliestEnd[stint], latestStart[stint]) = (end, start);
    }

    /// <summary>
    /// The precedences in topological order: those into a stint before those out of it. Where the week has a cycle, the order
    /// is arbitrary for its stints.
    /// </summary>
    private StintPrecedence[] TopologicalOrder()
    {
        var unranked = new int[problem.Stints.Count];
        foreach (var precedence in precedences) unranked[precedence.Successor]++;
        var ready = new Queue<int>(Enumerable.Range(0, unranked.Length).Where(stint => unranked[stint] == 0));
        var outgoing = precedences.ToLookup(precedence => precedence.Predecessor);
        var (rank, next) = (new int[unranked.Length], 0);
        while (ready.TryDequeue(out var stint))
        {
            rank[stint] = next++;
            foreach (var precedence in outgoing[stint])
                if (--unranked[precedence.Successor] == 0) ready.Enqueue(precedence.Successor);
        }
        return [.. precedences.OrderBy(precedence => rank[precedence.Predecessor])];
    }
}

/// <summary>Earliest and latest start and end of a stint, on condition that it lies in a given night. In minutes.</summary>
internal readonly record struct StintTimeWindow(int EarliestStart, int EarliestEnd, int LatestStart, int LatestEnd);
