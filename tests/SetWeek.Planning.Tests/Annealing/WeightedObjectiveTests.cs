using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Annealing;

public class WeightedObjectiveTests
{
    private static readonly GoalId[] GoalIds = [GoalId.LeftOut, GoalId.Reserve, GoalId.Cost, GoalId.Finish, GoalId.Nights,
        GoalId.Shifts, GoalId.Moves, GoalId.Uneven];

    [Theory]
    [InlineData("small", 3), InlineData("medium", 8), InlineData("large", 2)]
    public void The_objective_values_every_goal_as_the_goal_measures_it(string size, int seed)
    {
        var week = PlannerTests.Generated(size, seed) with { Goals = [.. GoalIds.Select(goal => new GoalChoice(goal))] };
        var problem = Problem.Of(week);
        var compact = new CompactProblem(problem);
        var schedule = new PartialSchedule(compact);
        var plan = PlanConverter.ScheduleOf(problem, Planner.Plan(week, new SearchLimits { Effort = 0.1, Workers = 1 }));
        new PartialScheduleReader(compact, new ShortestShift(compact)).Read(schedule, InitialPartialSchedule.Of(compact), plan);
        var values = new long[GoalIds.Length];
        new WeightedObjective(compact, new()).Evaluate(schedule, values);
        Assert.Equal(GoalIds.Select(goal => AllGoals.Of(goal).Measure(problem, plan)), values);
    }
}
