using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A new plan of a week, made for its chance, and what it reaches on fresh runs.</summary>
/// <param name="Problem">The problem of the week, changed or not.</param>
/// <param name="Schedule">The plan; it breaks no rule.</param>
/// <param name="Chance">Measured on runs that the search has not seen.</param>
/// <param name="LeftOut">Value of the wants left out.</param>
/// <param name="Cost">Wages, in minor units.</param>
internal sealed record MeasuredPlan(Problem Problem, Schedule Schedule, HoldChance Chance, long LeftOut, long Cost)
{
    /// <summary>Share of the budget after which the search may continue from the plan at hand.</summary>
    private const double FromNothingUntil = 0.7;

    /// <summary>
    /// Plans a week by ruin and recreate alone, since nobody asks for bounds. Null if no plan is found. The search starts from
    /// nothing: in the same effort it mostly reaches a higher chance than one that starts from a plan packed to the ends of its
    /// nights. The last part of it continues from the better of what it has found and the plan at hand, which may leave out less.
    /// </summary>
    /// <param name="mitigationCase">The week, and the plan at hand.</param>
    /// <param name="budget">What the search may use.</param>
    public static MeasuredPlan? Search(MitigationCase mitigationCase, Budget budget)
    {
        var problem = mitigationCase.Problem;
        var incumbent = new Incumbent(problem);
        var search = new HeuristicSearch(problem, incumbent, budget);
        search.FindFirst();
        search.Improve(FromNothingUntil);
        incumbent.Offer(mitigationCase.Schedule);
        if (incumbent.Best is not null) new HeuristicSearch(problem, incumbent, budget, asSecondSearch: true).Improve();
        else search.Improve();
        // Measuring takes a while, and nobody waits for it any more.
        budget.Stop.ThrowIfCancellationRequested();
        return incumbent.Best is not { } best ? null : new MeasuredPlan(problem, best, HoldChance.Of(problem, best),
            AllGoals.Of(GoalId.LeftOut).Measure(problem, best), AllGoals.Of(GoalId.Cost).Measure(problem, best));
    }

    /// <summary>
    /// True if the plan leaves out no more than the other, and holds more often beyond doubt: the confidence intervals are apart.
    /// </summary>
    /// <param name="other">The other plan.</param>
    /// <param name="leftOutByChange">The value that this plan has to leave out, because its week was changed so.</param>
    public bool IsSurerThan(MeasuredPlan other, long leftOutByChange) =>
        LeftOut <= other.LeftOut + leftOutByChange && Chance.Holds.LowerLimit() > other.Chance.Holds.UpperLimit();

    public ReplannedWeek AsResult() => new(Chance.Holds, Chance.Secured, Cost);
}
