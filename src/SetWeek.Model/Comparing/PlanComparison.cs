using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>Two plans side by side.</summary>
/// <param name="Baseline">
/// What the plan is compared with: the one <see cref="Published"/>, or one of the week <see cref="UnchangedWeek"/>.
/// </param>
/// <param name="Goals">Those asked, in their order, each plan's measured by the facts of its own week.</param>
/// <param name="Changes">What moves, what it would cost and, of a plan that people have, who would have to be told.</param>
public sealed record PlanComparison(string Baseline, IReadOnlyList<GoalDifference> Goals, PlanChanges Changes)
{
    public const string Published = "published", UnchangedWeek = "asItStands";

    /// <summary>Null where there is no plan on one side.</summary>
    public static PlanComparison? Of(Week baselineWeek, Plan baselinePlan, Week changedWeek, Plan changedPlan, Replan? replan)
    {
        if (baselinePlan.Nights.Count == 0 || changedPlan.Nights.Count == 0) return null;
        var (before, after) = (Problem.Of(baselineWeek, replan), Problem.Of(changedWeek, replan));
        var changes = PlanChanges.Between(after, baselinePlan, changedPlan);
        return new PlanComparison(replan is null ? UnchangedWeek : Published, [.. after.Goals.Select(choice => new GoalDifference(
            choice.Goal, PlanAudit.Measure(before, baselinePlan, choice.Goal), PlanAudit.Measure(after, changedPlan, choice.Goal)))],
            replan is null ? changes with { Notifications = [] } : changes);
    }
}
