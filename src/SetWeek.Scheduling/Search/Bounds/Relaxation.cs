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

    private Relaxation(Problem problem, Certificates known, Incumbent incumbent, Budget budget, Action<Guide>? guide)
    {
        (this.problem, this.known, this.incumbent, this.budget, this.guide) = (problem, known, incumbent, budget, guide);
        (settled, tried) = (new bool[problem.Goals.Count], new long[problem.Goals.Count][]);
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
        // The first goal needs no plan to be bounded, and while there is none nothing else can be.
        if (Bound(0, Share(0)) == RowSolver.Ending.Infeasible && incumbent.Best is null) return true;
        while (!budget.Spent && !incumbent.Closed)
        {
            if (incumbent.Best is null) { if (Wait()) break; continue; }
            if (Next() is not { } goal) { if (Wait()) break; continue; }
            Bound(goal, Share(goal));
        }
        return false;
    }

    /// <summary>The first goal whose bound is not its value yet and that has something new to be tried: tighter caps or more time.</summary>
    private int? Next()
    {
        var (values, bounds) = (incumbent.Values!, incumbent.Bounds());
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            if (bounds[goal] >= values[goal]) continue;
            var caps = incumbent.CapsFor(goal);
            if (tried[goal] is { } before && caps.AsSpan().SequenceEqual(before) && settled[goal]) continue;
            if (tried[goal] is null || !caps.AsSpan().SequenceEqual(tried[goal])) return goal;
        }
        // All have been tried as they stand: the one that has most to gain is given more time.
        return Enumerable.Range(0, problem.Goals.Count).Where(goal => !settled[goal] && bounds[goal] < values[goal]).Select(goal => (int?)goal)
            .MaxBy(goal => (values[goal!.Value] - bounds[goal.Value]) / (double)Math.Max(1, values[goal.Value]));
    }

    /// <summary>Seconds, or units, for one try: most for the cost, where there is most to prove.</summary>
    private double Share(int goal) => Math.Max(0.5, budget.Left * (problem.Goals[goal].Goal == "cost" ? 0.6 : 0.15));

    private RowSolver.Ending Bound(int goal, double most)
    {
        var id = problem.Goals[goal].Goal;
        var caps = goal == 0 ? [] : incumbent.CapsFor(goal);
        var master = new NightMaster(problem, known);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        // Nothing above the plan that there is need be looked at.
        if (incumbent.Values is { } values) master.Cap(id, values[goal]);
        var (sum, divisor) = master.Goal(id);
        bool Told(long least)
        {
            var bound = least <= 0 ? 0 : (least + divisor - 1) / divisor;
            incumbent.Prove(caps, bound);
            return incumbent.Values is { } now && bound >= now[goal];
        }
        var ending = new RowSolver(master.Rows, budget).Minimise(sum, most, Told, guide is null ? null : value => guide(Guide.Of(problem, master, id, value)));
        (tried[goal], settled[goal]) = (caps, ending != RowSolver.Ending.Stopped);
        return ending;
    }

    /// <summary>Until there is something new to do; true where there is nothing more to come.</summary>
    private bool Wait() => budget.Deterministic || budget.Stop.WaitHandle.WaitOne(20);
}
