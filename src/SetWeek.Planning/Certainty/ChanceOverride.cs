using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Certainty;

/// <summary>Plans a week for another chance to hold than its own, and states the result in the week's own terms.</summary>
public static class ChanceOverride
{
    /// <summary>
    /// The week with this chance, from 0 to 100. The goal hold comes right before cost where the week does not ask for it.
    /// </summary>
    public static Week Apply(Week week, int percent) => week with
    {
        Hold = week.Hold with { Chance = percent },
        Goals = WithHold(week.Goals),
        ReplanGoals = WithHold(week.ReplanGoals),
    };

    /// <summary>
    /// The plan with the goals of the week itself. Its bounds carry over, because no part that proves them knows the chance.
    /// </summary>
    /// <param name="own">The week's own problem.</param>
    /// <param name="plan">A plan of the week with another chance.</param>
    public static Plan WithOwnGoals(Problem own, Plan plan)
    {
        if (plan.Nights.Count == 0) return plan;
        GoalValue[] goals = [.. plan.Goals.Where(goal => own.PositionOf(goal.Goal) >= 0)
            .Select(goal => goal.Goal == GoalId.Hold
                ? goal with { Value = PlanAudit.Measure(own, plan, GoalId.Hold), Bound = 0 } : goal)];
        var missesChance = goals.Any(goal => goal is { Goal: GoalId.Hold, Value: > 0 });
        return plan with
        {
            Goals = goals,
            Status = missesChance && plan.Status == PlanStatus.Optimal ? PlanStatus.Feasible : plan.Status,
        };
    }

    private static IReadOnlyList<GoalChoice> WithHold(IReadOnlyList<GoalChoice> goals)
    {
        if (goals.Any(choice => choice.Goal == GoalId.Hold)) return goals;
        var cost = goals.TakeWhile(choice => choice.Goal != GoalId.Cost).Count();
        return [.. goals.Take(cost), new(GoalId.Hold), .. goals.Skip(cost)];
    }
}
