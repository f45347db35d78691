using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Benders;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// Proves lower bounds while the search runs: first those from propagation, then one goal after another over the night master.
/// The goals above the one minimised are capped at what the incumbent allows. Each bound holds for every valid plan within its
/// caps. A later call looks only at goals whose caps a better plan has changed.
/// </summary>
internal sealed class LowerBoundSearch
{
    /// <summary>
    /// Nearly all of a bound comes from the root node. The solver stops when the bound has not moved for this many seconds and
    /// for as long again as it took to reach it.
    /// </summary>
    private const double MinPatience = 0.5;

    /// <summary>Share of the remaining budget for the bound on the number of nights.</summary>
    private const double NightsShare = 0.35;

    /// <summary>Share of the remaining budget for the bound on the number of changes.</summary>
    private const double ChangesShare = 0.8;

    /// <summary>Share of the remaining budget for the bound on the stints shuffled within their night.</summary>
    private const double ShuffledShare = 0.6;

    /// <summary>
    /// The cost goal's allowance is spent in three parts: the night master before the priced night cuts (a share of the
    /// allowance), the cuts (a share of what then remains), and the night master with the cuts (the rest).
    /// </summary>
    private const double ShareBeforePricing = 0.35, PricingShare = 0.5;

    /// <summary>Largest number of stints for which priced night cuts pay off.</summary>
    private const int MaxStintsToPrice = 130;

    /// <summary>Share of the remaining budget for the bound on the finish time.</summary>
    private const double FinishShare = 0.25;

    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly Incumbent incumbent;
    private readonly long[]?[] triedCaps;
    private PricedNightCuts? pricedCuts;
    private ChangeCountBound? changeBound;

    /// <param name="problem">The week to bound.</param>
    /// <param name="propagation">The root propagation of the same problem.</param>
    /// <param name="incumbent">Records every bound; its best plan gives the caps of the goals above.</param>
    public LowerBoundSearch(Problem problem, RootPropagation propagation, Incumbent incumbent)
    {
        (this.problem, this.propagation, this.incumbent) = (problem, propagation, incumbent);
        triedCaps = new long[problem.Goals.Count][];
        for (var goal = 0; goal < problem.Goals.Count && !propagation.Infeasible; goal++)
            incumbent.RecordBound([.. Enumerable.Repeat(long.MaxValue, goal)], propagation.Bound(problem.Goals[goal].Goal));
    }

    /// <summary>
    /// True where it is proven that no valid plan exists. Returns when nothing new is left to try or the budget is spent.
    /// </summary>
    public bool Prove(Budget budget)
    {
        if (propagation.Infeasible) return true;
        // Caps come from a plan, so without one only the first goal can be bounded. A plan usually arrives within 0.2 seconds.
        for (var attempt = 0; incumbent.Best is null && !budget.Deterministic && attempt < 10; attempt++)
            if (budget.Stop.WaitHandle.WaitOne(20)) return false;
        if (incumbent.Best is null)
            return triedCaps[0] is null && !HasNothingToProve(0)
                && RaiseBound(0, budget) == SolverStatus.Infeasible && incumbent.Best is null;
        while (!budget.Spent && !incumbent.GapClosed && NextGoal() is { } goal) RaiseBound(goal, budget);
        return false;
    }

    /// <summary>The first goal whose value is above its bound and that was not yet tried with its present caps.</summary>
    private int? NextGoal()
    {
        for (var goal = 0; goal < problem.Goals.Count; goal++)
            if (!HasNothingToProve(goal)
                && (triedCaps[goal] is not { } caps || !CapsToProve(goal).AsSpan().SequenceEqual(caps))) return goal;
        return null;
    }

    /// <summary>
    /// The goal's bound is reached, or the night master cannot raise it: it knows neither scenarios nor people, and with a
    /// single night it adds nothing to propagation.
    /// </summary>
    private bool HasNothingToProve(int goal) => BoundReached(goal) || problem.Goals[goal].Goal is GoalId.Hold or GoalId.Handovers
        || (problem.Nights.Count == 1 && problem.Goals[goal].Goal is GoalId.Finish or GoalId.Nights);

    /// <summary>
    /// Caps on the goals above. Where the goal hold is at stake, it and the goals between it and this one have none. While the
    /// chance improves, their values get worse, and a bound proven under a smaller cap would apply no more.
    /// </summary>
    private long[] CapsToProve(int goal)
    {
        var caps = incumbent.CapsFor(goal);
        var hold = problem.PositionOf(GoalId.Hold);
        if (hold >= 0 && hold < goal && HoldGoal.IsAtStake(problem)
            && problem.Goals[goal].Goal is not (GoalId.Nights or GoalId.Changes))
            caps.AsSpan(hold).Fill(long.MaxValue);
        return caps;
    }

    private bool BoundReached(int goal) => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    private SolverStatus RaiseBound(int goal, Budget budget)
    {
        var id = problem.Goals[goal].Goal;
        var caps = incumbent.Best is null ? [] : CapsToProve(goal);
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
        if (id == GoalId.Shuffled && incumbent.Best is not null && problem.Facts is not null
            && problem.Goals.TakeWhile(choice => choice.Goal != GoalId.Changes).Count() is var changes && changes < goal)
        {
            changeBound ??= new ChangeCountBound(problem, propagation, incumbent, changes);
            changeBound.BoundShuffled(goal, caps, budget, budget.Remaining * ShuffledShare);
            if (BoundReached(goal)) return SolverStatus.Solved;
        }
        if (id == GoalId.Finish && incumbent.Best is not null && problem.Facts is null)
        {
            new FinishTimeBound(problem, incumbent, goal).Raise(caps, budget, budget.Remaining * FinishShare);
            return SolverStatus.Stopped;
        }
        var master = new NightMaster(problem, propagation);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        // Solutions worse than the incumbent are cut off.
        if (incumbent.Values is { } values) master.Cap(id, values[goal]);
        // The cost gets the largest share, because its gap is the largest.
        var end = budget.Remaining - Math.Max(0.3, budget.Remaining * (id == GoalId.Cost ? 0.7 : 0.25));
        var priced = id == GoalId.Cost && IsWorthPricing;
        var status = MinimiseOverNights(master, goal, caps, budget, (budget.Remaining - end) * (priced ? ShareBeforePricing : 1));
        if (!priced || status == SolverStatus.Infeasible || budget.Spent || BoundReached(goal))
            return status;
        AddPricedCuts(master, budget, (budget.Remaining - end) * PricingShare);
        return MinimiseOverNights(master, goal, caps, budget, budget.Remaining - end);
    }

    private SolverStatus MinimiseOverNights(
        NightMaster master, int goal, long[] caps, Budget budget, double allowance)
    {
        var (sum, divisor) = master.Goal(problem.Goals[goal].Goal);
        var (started, secondsToBest, best) = (budget.Clock.GetTimestamp(), 0.0, 0L);
        return new IntegerModelSolver(master.Model, budget, boundOnly: true).Minimise(sum, allowance,
            minimum =>
            {
                var bound = minimum <= 0 ? 0 : (minimum + divisor - 1) / divisor;
                incumbent.RecordBound(caps, bound);
                // A gain of 0.05 % or less counts as no movement.
                if (bound <= best + best / 2000) return;
                (best, secondsToBest) = (bound, budget.Clock.GetElapsedTime(started).TotalSeconds);
            },
            () => BoundReached(goal) || (!budget.Deterministic && best > 0
                && budget.Clock.GetElapsedTime(started).TotalSeconds > secondsToBest + Math.Max(MinPatience, secondsToBest)));
    }

    private bool IsWorthPricing =>
        problem.Facts is null && problem.Nights.Count > 1 && problem.Stints.Count <= MaxStintsToPrice;

    private void AddPricedCuts(NightMaster master, Budget budget, double allowance)
    {
        pricedCuts ??= new PricedNightCuts(problem, propagation);
        pricedCuts.AddCutsTo(master);
        var part = budget.CreateChild(allowance);
        pricedCuts.Tighten(master, master.Goal(GoalId.Cost).Sum, part);
        budget.Charge(part.Used);
    }
}
