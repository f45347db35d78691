using SetWeek.Model.Weeks;
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
internal sealed class LowerBoundSearch
{
    /// <summary>
    /// Nearly all of a bound comes at the root; what does not move any more for so many seconds, or as long again as it took,
    /// is let be.
    /// </summary>
    private const double MinPatience = 0.5;

    /// <summary>Share of what is left in which it is asked whether fewer nights do.</summary>
    private const double NightsShare = 0.35;

    /// <summary>Share of what is left in which changes are counted night by night.</summary>
    private const double ChangesShare = 0.6;

    /// <summary>
    /// Of what the cost is given, the share before nights are priced one by one, and of what is left then the share for that; the
    /// stints of a week up to which it is worth it.
    /// </summary>
    private const double ShareBeforePricing = 0.35, PricingShare = 0.5;
    private const int MaxStintsToPrice = 130;

    /// <summary>Share of what is left in which it is asked how soon all can be done.</summary>
    private const double FinishShare = 0.25;

    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly Incumbent incumbent;
    private readonly long[]?[] triedCaps;
    private PricedNightCuts? pricedCuts;
    private ChangeCountBound? changeBound;

    /// <param name="problem">What is planned.</param>
    /// <param name="propagation">Its certificates.</param>
    /// <param name="incumbent">Given every bound; its best plan says what goals above are held to.</param>
    public LowerBoundSearch(Problem problem, RootPropagation propagation, Incumbent incumbent)
    {
        (this.problem, this.propagation, this.incumbent) = (problem, propagation, incumbent);
        triedCaps = new long[problem.Goals.Count][];
        for (var goal = 0; goal < problem.Goals.Count && !propagation.Infeasible; goal++)
            incumbent.RecordBound([.. Enumerable.Repeat(long.MaxValue, goal)], propagation.Bound(problem.Goals[goal].Goal));
    }

    /// <summary>
    /// True where it is proven that there is no valid plan at all. Returns when there is nothing new to try, or the budget is
    /// spent.
    /// </summary>
    public bool Prove(Budget budget)
    {
        if (propagation.Infeasible) return true;
        // The first goal needs no plan to be bounded; without one nothing else can be. Mostly one comes at once.
        for (var wait = 0; incumbent.Best is null && !budget.Deterministic && wait < 10; wait++)
            if (budget.Stop.WaitHandle.WaitOne(20)) return false;
        if (incumbent.Best is null)
            return triedCaps[0] is null && !HasNothingToProve(0) && RaiseBound(0, budget) == SolverStatus.Infeasible && incumbent.Best is null;
        while (!budget.Spent && !incumbent.GapClosed && NextGoal() is { } goal) RaiseBound(goal, budget);
        return false;
    }

    /// <summary>The first goal whose value is not at its bound and that was not tried with the caps that it has now.</summary>
    private int? NextGoal()
    {
        for (var goal = 0; goal < problem.Goals.Count; goal++)
            if (!HasNothingToProve(goal) && (triedCaps[goal] is not { } caps || !incumbent.CapsFor(goal).AsSpan()
                .SequenceEqual(caps))) return goal;
        return null;
    }

    /// <summary>Nothing is left to prove of a goal here: of one night, nights say no more than the certificates did.</summary>
    private bool HasNothingToProve(int goal) => (problem.Nights.Count == 1 && problem.Goals[goal].Goal is GoalId.Finish or GoalId.Nights)
        || BoundReached(goal);

    private bool BoundReached(int goal) => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    private SolverStatus RaiseBound(int goal, Budget budget)
    {
        var id = problem.Goals[goal].Goal;
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        triedCaps[goal] = caps;
        if (id == GoalId.Nights && incumbent.Best is not null)
        {
            new NightCountBound(problem, propagation, incumbent, goal).Raise(caps, budget, budget.Remaining * NightsShare);
            return SolverStatus.Stopped;
        }
        if (id == GoalId.Changes && incumbent.Best is not null)
        {
            changeBound ??= new ChangeCountBound(problem, propagation, incumbent, goal);
            changeBound.Raise(caps, budget, budget.Remaining * ChangesShare);
            if (BoundReached(goal)) return SolverStatus.Solved;
        }
        if (id == GoalId.Finish && incumbent.Best is not null && problem.Facts is null)
        {
            new FinishTimeBound(problem, incumbent, goal).Raise(caps, budget, budget.Remaining * FinishShare);
            return SolverStatus.Stopped;
        }
        var master = new NightMaster(problem, propagation);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        // Nothing above the plan that there is need be looked at.
        if (incumbent.Values is { } values) master.Cap(id, values[goal]);
        // Most of what is left goes to the cost: there is most to prove.
        var end = budget.Remaining - Math.Max(0.3, budget.Remaining * (id == GoalId.Cost ? 0.7 : 0.25));
        var priced = id == GoalId.Cost && IsWorthPricing;
        var ending = MinimiseOverNights(master, goal, caps, budget, (budget.Remaining - end) * (priced ? ShareBeforePricing : 1));
        if (!priced || ending == SolverStatus.Infeasible || budget.Spent || BoundReached(goal)) return ending;
        AddPricedCuts(master, budget, (budget.Remaining - end) * PricingShare);
        return MinimiseOverNights(master, goal, caps, budget, budget.Remaining - end);
    }

    private SolverStatus MinimiseOverNights(NightMaster master, int goal, long[] caps, Budget budget, double allowance)
    {
        var (sum, divisor) = master.Goal(problem.Goals[goal].Goal);
        var (started, moved, best) = (Stopwatch.GetTimestamp(), 0.0, 0L);
        return new IntegerModelSolver(master.Model, budget, boundOnly: true).Minimise(sum, allowance,
            least =>
            {
                var bound = least <= 0 ? 0 : (least + divisor - 1) / divisor;
                incumbent.RecordBound(caps, bound);
                if (bound <= best + best / 2000) return;
                (best, moved) = (bound, Stopwatch.GetElapsedTime(started).TotalSeconds);
            },
            () => BoundReached(goal) || (!budget.Deterministic && best > 0
                && Stopwatch.GetElapsedTime(started).TotalSeconds > moved + Math.Max(MinPatience, moved)));
    }

    private bool IsWorthPricing => problem.Facts is null && problem.Nights.Count > 1 && problem.Stints.Count <= MaxStintsToPrice;

    /// <summary>Rows from nights solved one by one.</summary>
    private void AddPricedCuts(NightMaster master, Budget budget, double allowance)
    {
        pricedCuts ??= new PricedNightCuts(problem, propagation);
        pricedCuts.AddCutsTo(master);
        var part = budget.CreateChild(allowance);
        pricedCuts.Tighten(master, master.Goal(GoalId.Cost).Sum, part);
        budget.Charge(part.Used);
    }
}
