using SetWeek.Model.Checking;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Tests.Annealing;

/// <summary>Simulated annealing on a generated week, from a schedule of the serial schedule-generation scheme.</summary>
public class SimulatedAnnealingTests
{
    private readonly Problem problem;
    private readonly CompactProblem compact;
    private readonly PartialSchedule schedule;
    private readonly SimulatedAnnealing annealing;
    private readonly WeightedObjective objective;

    public SimulatedAnnealingTests()
    {
        var week = PlannerTests.Generated("medium", 4) with { Goals =
            [new(GoalId.LeftOut), new(GoalId.Shifts), new(GoalId.Cost)] };
        problem = Problem.Of(week);
        compact = new CompactProblem(problem);
        var (personNight, random) = (new ShortestShift(compact), new SplitMix64(1));
        var insertion = new ActivityInsertion(compact, personNight, random);
        var roster = new Rostering(compact, personNight, new StaffMatching(compact, personNight));
        var recreation = new SerialInsertion(compact, insertion, roster);
        schedule = new PartialSchedule(compact);
        new PriorityRuleSampling(compact, insertion, recreation, random, new())
            .Construct(schedule, InitialPartialSchedule.Of(compact), 0);
        objective = new WeightedObjective(compact, new());
        annealing = new SimulatedAnnealing(compact, new Ruin(compact, insertion, random, new()), insertion, roster, recreation,
            objective, random, new());
        annealing.StartFrom(schedule);
    }

    [Fact]
    public void Five_thousand_steps_lower_the_cost_by_a_tenth_and_break_no_rule()
    {
        var first = annealing.BestValues[2];
        for (var step = 0; step < 5000; step++) annealing.Step(0.1);
        Assert.True(annealing.BestValues[2] < first * 9 / 10, $"{first} to {annealing.BestValues[2]}");
        Assert.Empty(Checker.Check(problem, ScheduleCompletion.Of(compact, annealing.Best)));
    }

    [Fact]
    public void A_goal_before_cost_above_its_bound_is_improved_first()
    {
        Assert.Equal(1, annealing.OpenGoalBeforeCost(0, [0, 0, 0]));
        Assert.Equal(-1, annealing.OpenGoalBeforeCost(0, [0, annealing.BestValues[1], 0]));
    }

    [Fact]
    public void Evaluation_stops_at_a_limit_unless_the_values_are_lexicographically_better()
    {
        var (values, better, zero) = (new long[3], new long[] { 0, long.MaxValue, 0 }, new long[3]);
        Assert.Null(objective.EvaluateWithin(schedule, values, 0, zero));
        Assert.Equal(objective.EvaluateWithin(schedule, values, 0, better),
            objective.EvaluateWithin(schedule, values, double.MaxValue, zero));
    }
}
