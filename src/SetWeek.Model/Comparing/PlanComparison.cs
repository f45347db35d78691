using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>The comparison of a plan for a changed week with a baseline plan.</summary>
/// <param name="Baseline">
/// The kind of baseline: <see cref="Published"/> for the published plan, <see cref="UnchangedWeek"/> for a plan of the week
/// without the change.
/// </param>
/// <param name="Goals">
/// Values of the goals asked for, in their order. Each plan is measured by the facts of its own week.
/// </param>
/// <param name="Changes">The differences. It has notifications only if the baseline is the published plan.</param>
public sealed record PlanComparison(string Baseline, IReadOnlyList<GoalDifference> Goals, PlanChanges Changes)
{
    /// <summary>The kinds of baseline, as JSON writes them.</summary>
    public const string Published = "published", UnchangedWeek = "asItStands";

    /// <summary>Compares two plans; null if one of them has no nights, because no plan was found.</summary>
    /// <param name="baselineWeek">The week of the baseline.</param>
    /// <param name="baselinePlan">The baseline: the published plan of a re-plan, or a plan of the unchanged week.</param>
    /// <param name="changedWeek">The week with the change.</param>
    /// <param name="changedPlan">Its plan.</param>
    /// <param name="replan">The input of a re-plan; null if nothing is published.</param>
    public static PlanComparison? Of(Week baselineWeek, Plan baselinePlan, Week changedWeek, Plan changedPlan, Replan? replan)
    {
        if (baselinePlan.Nights.Count == 0 || changedPlan.Nights.Count == 0) return null;
        var (before, after) = (Problem.Of(baselineWeek, replan), Problem.Of(changedWeek, replan));
        var changes = PlanChanges.Between(after, baselinePlan, changedPlan);
        return new PlanComparison(replan is null ? UnchangedWeek : Published,
            [.. after.Goals.Select(choice => new GoalDifference(choice.Goal,
                PlanAudit.Measure(before, baselinePlan, choice.Goal), PlanAudit.Measure(after, changedPlan, choice.Goal)))],
            replan is null ? changes with { Notifications = [] } : changes);
    }
}
