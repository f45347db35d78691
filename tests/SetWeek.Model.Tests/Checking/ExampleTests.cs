using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Checking;

public sealed class ExampleTests
{
    /// <summary>Source: the small week and its plan in the examples. This planner did not make that plan.</summary>
    [SharedFact]
    public void A_plan_made_elsewhere_breaks_no_rule_and_has_its_stated_goal_values()
    {
        var week = WeekFile.Read(SharedFactAttribute.Read("small.week.json")).AsT0;
        var plan = PlanFile.Read(SharedFactAttribute.Read("small.plan.json"), week).AsT0;
        var problem = Problem.Of(week);
        var schedule = PlanConverter.ScheduleOf(problem, plan);

        Assert.Empty(Checker.Check(problem, schedule));
        Assert.Equal(["leftOut 0", "reserve 0", "cost 115655", "finish 5995", "moves 19"],
            plan.Goals.Select(goal => $"{goal.Goal.Text()} {AllGoals.Of(goal.Goal).Measure(problem, schedule)}"));
        Assert.Equal([0, 0, 115655, 5995, 19], plan.Goals.Select(goal => goal.Value));
    }
}
