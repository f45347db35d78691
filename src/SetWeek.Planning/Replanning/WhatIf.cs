using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>What would come of changes to a week: planned like any other, and set beside what there is without them.</summary>
/// <param name="Week">The week with the changes made.</param>
/// <param name="Plan">Its plan, or why there is none.</param>
/// <param name="Difference">Null where there is no plan to compare, on either side.</param>
public sealed record WhatIf(Week Week, Plan Plan, PlanComparison? Difference)
{
    /// <summary>
    /// Once a plan is published, the changed week is re-planned and compared with that plan, which people have. Before, both
    /// weeks are planned, each with half of what may be used, so that neither looks better for having been looked at longer.
    /// </summary>
    /// <param name="week">As it stands.</param>
    /// <param name="changed">With the changes made; valid too.</param>
    /// <param name="limits">For all of it.</param>
    /// <param name="replan">The published plan and the facts since, which fit both weeks; null before the first.</param>
    /// <param name="stop">Obeyed within 200 ms.</param>
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
