using System.Diagnostics;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Benders;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// Proves bounds beside the search: what the certificates say at once, then each goal in turn over the night master, those
/// above it held to what the best plan allows. Says nothing that a valid plan could contradict. Asked again, it looks only
/// at goals whose caps a better plan has changed since.
/// </summary>
internal sealed class Relaxation
{
    /// <summary>
    /// Nearly all of a bound comes at the root; what does not move any more for so many seconds, or as long again as it took,
    /// is let be.
    /// </summary>
    private const double LeastPatience = 0.5;

    /// <summary>Share of what is left in which it is asked whether fewer nights do.</summary>
    private const double ForNights = 0.35;

    /// <summary>Share of what is left in which changes are counted night by night.</summary>
    private const double ForChanges = 0.6;

    /// <summary>
    /// Of what the cost is given, the share before nights are priced one by one, and of what is left then the share for that; the
    /// stints of a week up to which it is worth it.
    /// </summary>
    private const double BeforePrices = 0.35, ToPrices = 0.5;
    private const int MostToPrice = 130;

    /// <summary>Share of what is left in which it is asked how soon all can be done.</summary>
    private const double ForFinish = 0.25;

    private readonly Problem problem;
    private readonly Certificates known;
    private readonly Incumbent incumbent;
    private readonly long[]?[] tried;
    private NightPrices? prices;
    private LeastChange? changes;

    /// <param name="problem">What is planned.</param>
    /// <param name="known">Its certificates.</param>
    /// <param name="incumbent">Given every bound; its best plan says what goals above are held to.</param>
    public Relaxation(Problem problem, Certificates known, Incumbent incumbent)
    {
        (this.problem, this.known, this.incumbent) = (problem, known, incumbent);
        tried = new long[problem.Goals.Count][];
        for (var goal = 0; goal < problem.Goals.Count && !known.Impossible; goal++)
            incumbent.Prove([.. Enumerable.Repeat(long.MaxValue, goal)], known.Bound(problem.Goals[goal].Goal));
    }

    /// <summary>
    /// True where it is proven that there is no valid plan at all. Returns when there is nothing new to try, or the budget is
    /// spent.
    /// </summary>
    public bool Prove(Budget budget)
    {
        if (known.Impossible) return true;
        // The first goal needs no plan to be bounded; without one nothing else can be. Mostly one comes at once.
        for (var wait = 0; incumbent.Best is null && !budget.Deterministic && wait < 10; wait++)
            if (budget.Stop.WaitHandle.WaitOne(20)) return false;
        if (incumbent.Best is null)
            return tried[0] is null && !Closed(0) && Bound(0, budget) == RowSolver.Ending.Infeasible && incumbent.Best is null;
        while (!budget.Spent && !incumbent.Closed && Next() is { } goal) Bound(goal, budget);
        return false;
    }

    /// <summary>The first goal whose value is not at its bound and that was not tried with the caps that it has now.</summary>
    private int? Next()
    {
        for (var goal = 0; goal < problem.Goals.Count; goal++)
            if (!Closed(goal) && (tried[goal] is not { } caps || !incumbent.CapsFor(goal).AsSpan()
                .SequenceEqual(caps))) return goal;
        return null;
    }

    /// <summary>Nothing is left to prove of a goal here: of one night, nights say no more than the certificates did.</summary>
    private bool Closed(int goal) => (problem.Nights.Count == 1 && problem.Goals[goal].Goal is "finish" or "nights")
        || Reached(goal);

    private bool Reached(int goal) => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    private RowSolver.Ending Bound(int goal, Budget budget)
    {
        var id = problem.Goals[goal].Goal;
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        tried[goal] = caps;
        if (id == "nights" && incumbent.Best is not null)
        {
            new FewestNights(problem, known, incumbent, goal).Raise(caps, budget, budget.Left * ForNights);
            return RowSolver.Ending.Stopped;
        }
        if (id == "changes" && incumbent.Best is not null)
        {
            changes ??= new LeastChange(problem, known, incumbent, goal);
            changes.Raise(caps, budget, budget.Left * ForChanges);
            if (Reached(goal)) return RowSolver.Ending.Solved;
        }
        if (id == "finish" && incumbent.Best is not null && problem.Facts is null)
        {
            new SoonestFinish(problem, incumbent, goal).Raise(caps, budget, budget.Left * ForFinish);
            return RowSolver.Ending.Stopped;
        }
        var master = new NightMaster(problem, known);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        // Nothing above the plan that there is need be looked at.
        if (incumbent.Values is { } values) master.Cap(id, values[goal]);
        // Most of what is left goes to the cost: there is most to prove.
        var end = budget.Left - Math.Max(0.3, budget.Left * (id == "cost" ? 0.7 : 0.25));
        var priced = id == "cost" && PaysToPrice;
        var ending = Minimise(master, goal, caps, budget, (budget.Left - end) * (priced ? BeforePrices : 1));
        if (!priced || ending == RowSolver.Ending.Infeasible || budget.Spent || Reached(goal)) return ending;
        Price(master, budget, (budget.Left - end) * ToPrices);
        return Minimise(master, goal, caps, budget, budget.Left - end);
    }

    private RowSolver.Ending Minimise(NightMaster master, int goal, long[] caps, Budget budget, double most)
    {
        var (sum, divisor) = master.Goal(problem.Goals[goal].Goal);
        var (started, moved, best) = (Stopwatch.GetTimestamp(), 0.0, 0L);
        return new RowSolver(master.Rows, budget, forBound: true).Minimise(sum, most,
            least =>
            {
                var bound = least <= 0 ? 0 : (least + divisor - 1) / divisor;
                incumbent.Prove(caps, bound);
                if (bound <= best + best / 2000) return;
                (best, moved) = (bound, Stopwatch.GetElapsedTime(started).TotalSeconds);
            },
            () => Reached(goal) || (!budget.Deterministic && best > 0
                && Stopwatch.GetElapsedTime(started).TotalSeconds > moved + Math.Max(LeastPatience, moved)));
    }

    private bool PaysToPrice => problem.Facts is null && problem.Nights.Count > 1 && problem.Stints.Count <= MostToPrice;

    /// <summary>Rows from nights solved one by one.</summary>
    private void Price(NightMaster master, Budget budget, double most)
    {
        prices ??= new NightPrices(problem, known);
        prices.GiveTo(master);
        var part = budget.Part(most);
        prices.Tighten(master, master.Goal("cost").Sum, part);
        budget.Use(part.Used);
    }
}
