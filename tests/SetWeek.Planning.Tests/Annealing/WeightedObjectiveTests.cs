using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Annealing;

public class WeightedObjectiveTests
{
    private static readonly GoalId[] GoalIds = [GoalId.LeftOut, GoalId.Reserve, GoalId.Bare, GoalId.Cost,
        GoalId.Finish, GoalId.Nights, GoalId.Shifts, GoalId.Handovers, GoalId.Moves, GoalId.Uneven];

    [Theory]
    [InlineData("small", 3), InlineData("medium", 8), InlineData("large", 2)]
    public void The_objective_values_every_goal_as_the_goal_measures_it(string size, int seed)
    {
        var week = WithTrade(PlannerTests.Generated(size, seed)) with
        {
            Goals = [.. GoalIds.Select(goal => new GoalChoice(goal))],
        };
        var problem = Problem.Of(week);
        var plan = PlanConverter.ScheduleOf(problem, Planner.Plan(week, new SearchLimits { Effort = 0.1, Workers = 1 }));
        Assert.Equal(GoalIds.Select(goal => AllGoals.Of(goal).Measure(problem, plan)), ValuesOf(problem, plan));
        // The plan is measured once more as a re-plan of one with the work of each night in another order.
        var published = Planner.Plan(week, new SearchLimits { Effort = 0.1, Workers = 1, Seed = 5 });
        var again = Problem.Of(week with { ReplanGoals = [new(GoalId.Shuffled)] },
            new Replan(published, week.Nights[0].Opens.PlusHours(-9), []));
        Assert.Equal([AllGoals.Of(GoalId.Shuffled).Measure(again, plan)], ValuesOf(again, plan));
    }

    /// <summary>The first task of a zone empties it and its last one fills it.</summary>
    private static Week WithTrade(Week week) => week with
    {
        Store = week.Store with { Zones = [.. week.Store.Zones.Select((zone, at) => zone with { TradePerDay = 100 + at })] },
        Tasks = [.. week.Tasks.Select(task => task with
        {
            Empties = week.Tasks.First(other => other.Zone == task.Zone) == task,
            Fills = week.Tasks.Last(other => other.Zone == task.Zone) == task,
        })],
    };

    private static long[] ValuesOf(Problem problem, Schedule plan)
    {
        var compact = new CompactProblem(problem);
        var schedule = new PartialSchedule(compact);
        new PartialScheduleReader(compact, new ShortestShift(compact)).Read(schedule, InitialPartialSchedule.Of(compact), plan);
        var objective = new WeightedObjective(compact, new());
        var values = new long[objective.Count];
        objective.Evaluate(schedule, values);
        return values;
    }
}
