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
    /// <summary>Plans a week by ruin and recreate alone, since nobody asks for bounds. Null if no plan is found.</summary>
    /// <param name="mitigationCase">The week, and a plan from which the search starts if it breaks no rule.</param>
    /// <param name="other">Another plan to start from.</param>
    /// <param name="budget">What the search may use.</param>
    public static MeasuredPlan? Search(MitigationCase mitigationCase, Schedule other, Budget budget)
    {
        var problem = mitigationCase.Problem;
        var incumbent = new Incumbent(problem);
        incumbent.Offer(mitigationCase.Schedule);
        incumbent.Offer(other);
        // A search that starts from a plan continues from it half cooled.
        new HeuristicSearch(problem, incumbent, budget, asSecondSearch: incumbent.Best is not null).Improve();
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
