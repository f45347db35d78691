using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>Re-plans for one late kit, on generated weeks. The expectations follow from the definition of the goal changes.</summary>
public class LeastChangeReplanTests
{
    private static readonly SearchLimits Limits = new() { Effort = 1, Workers = 1 };

    [Theory, InlineData("small", 4), InlineData("medium", 4)]
    public void A_published_plan_that_keeps_every_rule_is_the_answer_without_a_search(string size, int seed)
    {
        var (week, replan) = Published(size, seed);
        var kit = week.Kits.Single(kit => kit.Id == "kit-signs");
        var changed = new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusMinutes(-30)).Apply(week);
        var searched = false;
        var plan = LeastChangeReplan.Find(changed, Limits, replan, _ => searched = true);
        Assert.False(searched);
        var problem = Problem.Of(changed, replan);
        var changes = PlanChanges.Between(problem, replan.Published, plan);
        Assert.Empty(changes.Shifts);
        Assert.Empty(changes.Work);
        Assert.Empty(PlanAudit.Discrepancies(problem, plan));
        Assert.Equal(0, plan.Goals.Single(goal => goal.Goal == GoalId.Changes).Value);
    }

    [Theory, InlineData("small", 4), InlineData("medium", 4)]
    public void A_published_plan_that_breaks_a_rule_is_searched_anew(string size, int seed)
    {
        var (week, replan) = Published(size, seed);
        var kit = week.Kits.Single(kit => kit.Id == "kit-signs");
        var changed = new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusDays(1)).Apply(week);
        var problem = Problem.Of(changed, replan);
        Assert.NotEmpty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, replan.Published)));
        var plan = LeastChangeReplan.Find(changed, Limits, replan);
        Assert.NotEmpty(plan.Nights);
        Assert.Empty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)));
        Assert.Empty(PlanAudit.Discrepancies(problem, plan));
        Assert.All(plan.Goals, goal => Assert.InRange(goal.Bound ?? 0, 0, goal.Value));
    }

    [Fact]
    public void The_least_change_is_proven_when_changes_and_the_goals_above_are_at_their_bounds()
    {
        var (week, replan) = Published("small", 4);
        var problem = Problem.Of(week, replan);
        var plan = LeastChangeReplan.Find(week, Limits, replan);
        Plan With(params (GoalId Goal, long Value, long? Bound)[] known) => plan with
        {
            Goals = [.. problem.Goals.Select(choice => known.FirstOrDefault(one => one.Goal == choice.Goal) is { Value: > 0 } one
                ? new GoalValue(one.Goal, one.Value, one.Bound) : new GoalValue(choice.Goal, 0, 0))],
        };
        Assert.True(LeastChangeReplan.IsLeastChangeProven(problem, With((GoalId.Changes, 3, 3), (GoalId.Cost, 900, 100))));
        Assert.False(LeastChangeReplan.IsLeastChangeProven(problem, With((GoalId.Changes, 3, 2))));
        Assert.False(LeastChangeReplan.IsLeastChangeProven(problem, With((GoalId.Changes, 3, null))));
        Assert.False(LeastChangeReplan.IsLeastChangeProven(problem, With((GoalId.LeftOut, 2, 1), (GoalId.Changes, 3, 3))));
        Assert.False(LeastChangeReplan.IsLeastChangeProven(problem, plan with { Nights = [] }));
    }

    private static (Week Week, Replan Replan) Published(string size, int seed)
    {
        var week = PlannerTests.Generated(size, seed);
        return (week, new Replan(Planner.Plan(week, new SearchLimits { Effort = 0.3 }), week.Nights[0].Opens.PlusHours(-10), []));
    }
}
