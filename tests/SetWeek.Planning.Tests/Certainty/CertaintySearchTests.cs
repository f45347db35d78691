using SetWeek.Bench;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Certainty;

public sealed class CertaintySearchTests
{
    /// <summary>
    /// Each plan is dearer and surer than the one before it, and states the week's own goals correctly. Four chances share four
    /// units of effort, so the cheapest plan costs no more than a plan made for no chance with one unit.
    /// </summary>
    [Fact]
    public void Plans_go_from_the_cheapest_to_the_surest_and_state_the_goals_of_the_week()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 4);
        var problem = Problem.Of(week);
        var (plans, withoutPlan) = CertaintySearch.Find(week, new SearchLimits { Effort = 4, Workers = 1 });
        Assert.Null(withoutPlan);
        Assert.InRange(plans.Count, 2, 5);
        Assert.All(plans.Zip(plans.Skip(1)), pair => Assert.True(pair.First.Cost < pair.Second.Cost
            && pair.First.Chance.Holds.Held < pair.Second.Chance.Holds.Held));
        var cheapest = Planner.Plan(ChanceOverride.Apply(week, 0), new SearchLimits { Effort = 1, Workers = 1 });
        Assert.InRange(plans[0].Cost, 0, cheapest.Goals.Single(goal => goal.Goal == GoalId.Cost).Value);
        Assert.InRange(plans[^1].AskedPercent, 80, 95);
        Assert.InRange(plans[^1].Chance.Holds.Share, plans[0].Chance.Holds.Share + 0.1, 1);
        Assert.All(plans, plan =>
        {
            Assert.Empty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan.Plan)));
            Assert.Empty(PlanAudit.Discrepancies(problem, plan.Plan));
        });
    }
}
