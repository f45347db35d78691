namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// Proves bounds beside the search: what the certificates say at once, then each goal in turn over the night master, those
/// above it held to what the best plan allows. Says nothing that a valid plan could contradict, and stops when the budget
/// is spent, told to, or when nothing is left to prove.
/// </summary>
internal sealed class Relaxation
{
    private readonly Problem problem;
    private readonly Certificates known;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly Action<Guide>? guide;
    private readonly bool[] settled;
    private readonly long[]?[] tried;
    private readonly int[] times;

    private Relaxation(Problem problem, Certificates known, Incumbent incumbent, Budget budget, Action<Guide>? guide)
    {
        (this.problem, this.known, this.incumbent, this.budget, this.guide) = (problem, known, incumbent, budget, guide);
        (settled, tried, times) = (new bool[problem.Goals.Count], new long[problem.Goals.Count][], new int[problem.Goals.Count]);
    }

    /// <summary>True where it is proven that there is no valid plan at all.</summary>
    /// <param name="guide">Told of solutions of the master, better ones later; called from a foreign thread.</param>
    public static bool Prove(Problem problem, Certificates known, Incumbent incumbent, Budget budget, Action<Guide>? guide = null)
    {
        if (known.Impossible) return true;
        for (var goal = 0; goal < problem.Goals.Count; goal++)
            incumbent.Prove([.. Enumerable.Repeat(long.MaxValue, goal)], known.Bound(problem.Goals[goal].Goal));
        return new Relaxation(problem, known, incumbent, budget, guide).Run();
    }

    private bool Run()
    {
        // The first goal needs no plan to be bounded, and while there is none nothing else can be. Mostly one comes at once.
        for (var wait = 0; incumbent.Best is null && wait < 10; wait++)
            if (Wait()) break;
        if (incumbent.Best is null && !Closed(0) && Bound(0) == RowSolver.Ending.Infeasible && incumbent.Best is null) return true;
        while (!budget.Spent && !incumbent.Closed)
            if (incumbent.Best is not null && Next() is { } goal) Bound(goal);
            else if (Enumerable.Range(0, problem.Goals.Count).All(Closed) || Wait()) break;
        return false;
    }

    /// <summary>
    /// The first goal whose value is not at its bound and that was not tried with the caps that it has now; else, of those
    /// that more time may help, the one tried least. Null where only a better plan would help.
    /// </summary>
    private int? Next()
    {
        var open = Enumerable.Range(0, problem.Goals.Count).Where(goal => !Closed(goal)).ToArray();
        foreach (var goal in open)
            if (tried[goal] is not { } caps || !incumbent.CapsFor(goal).AsSpan().SequenceEqual(caps)) return goal;
        return open.Where(goal => !settled[goal]).Select(goal => (int?)goal).MinBy(goal => times[goal!.Value]);
    }

    /// <summary>Nothing is left to prove of a goal here: of one night, nights say no more than the certificates did.</summary>
    private bool Closed(int goal) => (problem.Nights.Count == 1 && problem.Goals[goal].Goal is "finish" or "nights") || Reached(goal);

    private bool Reached(int goal) => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    /// <summary>Seconds, or units, for one try: most for the cost, where there is most to prove.</summary>
    private double Share(int goal) =>
        Math.Max(0.3, budget.Left * (times[goal] > 0 ? 0.5 : problem.Goals[goal].Goal == "cost" ? 0.65 : 0.2));

    private RowSolver.Ending Bound(int goal)
    {
        var id = problem.Goals[goal].Goal;
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        var master = new NightMaster(problem, known);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        // Nothing above the plan that there is need be looked at.
        if (incumbent.Values is { } values) master.Cap(id, values[goal]);
        var (sum, divisor) = master.Goal(id);
        var ending = new RowSolver(master.Rows, budget).Minimise(sum, Share(goal),
            least => incumbent.Prove(caps, least <= 0 ? 0 : (least + divisor - 1) / divisor),
            () => Reached(goal),
            guide is null ? null : value => guide(Guide.Of(problem, master, id, value)));
        (tried[goal], settled[goal]) = (caps, ending != RowSolver.Ending.Stopped);
        times[goal]++;
        return ending;
    }

    /// <summary>Until there is something new to do; true where nothing more will come.</summary>
    private bool Wait() => budget.Deterministic || budget.Stop.WaitHandle.WaitOne(20);
}
