using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// The effect of changes to a week: the changed week is planned and compared with the plan without the changes.
/// </summary>
/// <param name="Week">The week with the changes.</param>
/// <param name="Plan">The plan of the changed week, or the reason why there is none.</param>
/// <param name="Difference">The comparison; null if either week has no plan.</param>
public sealed record WhatIf(Week Week, Plan Plan, PlanComparison? Difference)
{
    /// <summary>
    /// Plans the changed week and compares. After publication, the changed week is re-planned and compared with the published
    /// plan. Before publication, both weeks are planned with half of the limits each, so that the comparison is fair.
    /// </summary>
    /// <param name="week">The week without the changes.</param>
    /// <param name="changed">The week with the changes; it must be valid.</param>
    /// <param name="limits">Limits of the whole evaluation.</param>
    /// <param name="replan">
    /// The published plan and the facts since, valid for both weeks; null before the first publication.
    /// </param>
    /// <param name="stop">Ends the evaluation within 200 ms; the best plans so far are compared.</param>
    public static WhatIf Evaluate(Week week, Week changed, SearchLimits limits, Replan? replan, CancellationToken stop = default)
    {
        if (replan is not null)
        {
            var again = Planner.Plan(changed, limits, replan, stop: stop);
            return new WhatIf(changed, again, PlanComparison.Of(week, replan.Published, changed, again, replan));
        }
        var half = limits with { Time = limits.Time / 2, Effort = limits.Effort / 2 };
        var without = Planner.Plan(week, half, stop: stop);
        var with = Planner.Plan(changed, half, stop: stop);
        return new WhatIf(changed, with, PlanComparison.Of(week, without, changed, with, null));
    }
}
