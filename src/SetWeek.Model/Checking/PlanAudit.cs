using SetWeek.Model.Weeks;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Checking;

/// <summary>
/// What a plan says of itself, looked at again: its goals' values, the wants that it leaves out, and that nothing better
/// exists. (That its bounds are proven cannot be seen from the plan.)
/// </summary>
public static class PlanAudit
{
    /// <summary>Sentences, one for each claim that is not so.</summary>
    public static IReadOnlyList<string> Discrepancies(Problem problem, Plan plan)
    {
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        return [.. GoalDiscrepancies(problem, schedule, plan), .. LeftOutDiscrepancies(problem, schedule, plan)];
    }

    /// <summary>A goal's value, measured on the plan's nights.</summary>
    public static long Measure(Problem problem, Plan plan, GoalId goal) =>
        AllGoals.Of(goal).Measure(problem, PlanConverter.ScheduleOf(problem, plan));

    private static IEnumerable<string> GoalDiscrepancies(Problem problem, Schedule schedule, Plan plan)
    {
        foreach (var goal in plan.Goals)
        {
            // Changes are counted from a published plan, which a check of one plan does not have.
            if (goal.Goal == GoalId.Changes && problem.Facts is null) continue;
            var measured = AllGoals.Of(goal.Goal).Measure(problem, schedule);
            if (measured != goal.Value) yield return $"The plan says that {goal.Goal.Text()} is {goal.Value}; it is {measured}.";
            if (goal.Bound > goal.Value)
                yield return $"The plan says that {goal.Goal.Text()} cannot be below {goal.Bound}, and that it is {goal.Value}.";
        }
        var loose = plan.Goals
            .FirstOrDefault(goal => !(goal.Value <= goal.Bound + goal.Bound * ToleranceOf(problem, goal.Goal) / 100));
        if (plan.Status == PlanStatus.Optimal && loose is not null)
            yield return $"The plan says that it is optimal, and proves of {loose.Goal.Text()} no more than "
                + $"{loose.Bound?.ToString() ?? "nothing"} where it has {loose.Value}.";
        if (plan.Status == PlanStatus.Optimal && plan.Goals.Count == 0 && problem.Goals.Count > 0)
            yield return "The plan says that it is optimal, and names none of the goals asked.";
    }

    private static IEnumerable<string> LeftOutDiscrepancies(Problem problem, Schedule schedule, Plan plan)
    {
        var leftOut = PlanBuilder.LeftOutDisplays(problem, schedule);
        foreach (var display in leftOut.Except(plan.LeftOut))
            yield return $"The plan leaves out {Name(problem, display)} and does not say so.";
        foreach (var display in plan.LeftOut.Except(leftOut))
            yield return $"The plan says that it leaves out {Name(problem, display)}, and does not.";
    }

    private static string Name(Problem problem, string display) =>
        problem.Displays.FirstOrDefault(one => one.Id == display)?.Name ?? display;

    private static int ToleranceOf(Problem problem, GoalId goal) =>
        problem.Goals.FirstOrDefault(choice => choice.Goal == goal)?.TolerancePercent ?? 0;
}
