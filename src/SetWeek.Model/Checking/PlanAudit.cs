using System.Globalization;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Checking;

/// <summary>
/// Compares what a plan states about itself with its nights: the goal values, the wants left out, and the status optimal. A
/// bound is compared with its value only; its proof cannot be repeated from the plan.
/// </summary>
public static class PlanAudit
{
    /// <summary>One sentence for each statement of the plan that is wrong; empty if none is.</summary>
    public static IReadOnlyList<string> Discrepancies(Problem problem, Plan plan)
    {
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        return [.. GoalDiscrepancies(problem, schedule, plan), .. LeftOutDiscrepancies(problem, schedule, plan)];
    }

    /// <summary>The value of a goal, measured on the plan's nights, in the goal's unit.</summary>
    public static long Measure(Problem problem, Plan plan, GoalId goal) =>
        AllGoals.Of(goal).Measure(problem, PlanConverter.ScheduleOf(problem, plan));

    private static IEnumerable<string> GoalDiscrepancies(Problem problem, Schedule schedule, Plan plan)
    {
        if (plan.Goals.Count > 0 && !AskedGoals(problem).Any(asked => asked.SequenceEqual(plan.Goals.Select(goal => goal.Goal))))
            yield return $"The plan gives the goals {Names(plan.Goals.Select(goal => goal.Goal))}; the week asks for "
                + $"{string.Join(", or in a re-plan ", AskedGoals(problem).Select(Names))}, in this order and no others.";
        foreach (var goal in plan.Goals)
        {
            // These goals compare with a published plan, which a check of a first plan does not have.
            if (goal.Goal.IsOfReplansOnly() && problem.Facts is null) continue;
            // A plan that breaks rules cannot be simulated.
            if (goal.Goal == GoalId.Hold && Checker.Check(problem, schedule).Count > 0) continue;
            var measured = AllGoals.Of(goal.Goal).Measure(problem, schedule);
            if (measured != goal.Value) yield return $"The plan says that {goal.Goal.Text()} is {goal.Value}; it is {measured}.";
            if (goal.Bound > goal.Value)
                yield return $"The plan gives {goal.Goal.Text()} the value {goal.Value}, below its lower bound of {goal.Bound}.";
        }
        var loose = plan.Goals
            .FirstOrDefault(goal => !(goal.Value <= goal.Bound + goal.Bound * ToleranceOf(problem, goal.Goal) / 100));
        if (plan.Status == PlanStatus.Optimal && loose is not null)
            yield return $"The plan says that it is optimal, but the value of {loose.Goal.Text()} is {loose.Value} and its lower "
                + $"bound is {loose.Bound?.ToString(CultureInfo.InvariantCulture) ?? "not known"}.";
        if (plan.Status == PlanStatus.Optimal && plan.Goals.Count == 0 && problem.Goals.Count > 0)
            yield return "The plan says that it is optimal, but gives no value for the goals asked.";
    }

    /// <summary>
    /// The goals that a plan may name. A re-plan can be checked without its published plan, as if it were a first plan.
    /// </summary>
    private static IEnumerable<IEnumerable<GoalId>> AskedGoals(Problem problem)
    {
        IReadOnlyList<GoalChoice>[] asked = problem.Facts is null ? [problem.Goals, problem.Week.ReplanGoals] : [problem.Goals];
        return asked.Select(choices => choices.Select(choice => choice.Goal));
    }

    private static string Names(IEnumerable<GoalId> goals) => string.Join(", ", goals.Select(goal => goal.Text()));

    private static IEnumerable<string> LeftOutDiscrepancies(Problem problem, Schedule schedule, Plan plan)
    {
        var leftOut = PlanBuilder.LeftOutDisplays(problem, schedule);
        foreach (var display in leftOut.Except(plan.LeftOut))
            yield return $"The plan leaves out {Name(problem, display)} but does not list it as left out.";
        foreach (var display in plan.LeftOut.Except(leftOut))
            yield return $"The plan lists {Name(problem, display)} as left out, but does not leave it out.";
    }

    private static string Name(Problem problem, string display) =>
        problem.Displays.FirstOrDefault(candidate => candidate.Id == display)?.Name ?? display;

    private static int ToleranceOf(Problem problem, GoalId goal) =>
        problem.Goals.FirstOrDefault(choice => choice.Goal == goal)?.TolerancePercent ?? 0;
}
