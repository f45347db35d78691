using SetWeek.Model.Weeks;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Tests.Search;

/// <summary>Ruin and recreate on a generated week, its own plan to begin with.</summary>
public class AnnealingTests
{
    private readonly Problem problem;
    private readonly CompactProblem image;
    private readonly PartialSchedule draft;
    private readonly SimulatedAnnealing annealing;
    private readonly WeightedObjective score;

    public AnnealingTests()
    {
        var week = PlannerTests.Generated("medium", 4) with { Goals = [new(GoalId.LeftOut), new(GoalId.Shifts), new(GoalId.Cost)] };
        problem = Problem.Of(week);
        image = new CompactProblem(problem);
        var (personNight, random) = (new ShortestShift(image), new SplitMix64(1));
        var placer = new ActivityInsertion(image, personNight, random);
        var roster = new Rostering(image, personNight, new StaffMatching(image, personNight));
        var recreation = new SerialInsertion(image, placer, roster);
        draft = new PartialSchedule(image);
        new PriorityRuleSampling(image, placer, recreation, random).Construct(draft, InitialPartialSchedule.Of(image), 0);
        score = new WeightedObjective(image);
        annealing = new SimulatedAnnealing(image, placer, roster, recreation, score, random);
        annealing.StartFrom(draft);
    }

    [Fact]
    public void A_few_thousand_ruins_save_a_tenth_of_what_the_first_plan_costs_and_the_best_breaks_no_rule()
    {
        var first = annealing.BestValues[2];
        for (var step = 0; step < 5000; step++) annealing.Step(0.1);
        Assert.True(annealing.BestValues[2] < first * 9 / 10, $"{first} to {annealing.BestValues[2]}");
        Assert.Empty(Checker.Check(problem, ScheduleCompletion.Of(image, annealing.Best)));
    }

    [Fact]
    public void A_goal_before_money_that_is_not_at_its_bound_comes_first()
    {
        Assert.Equal(1, annealing.FirstOpenGoalBeforeCost([0, 0, 0]));
        Assert.Equal(-1, annealing.FirstOpenGoalBeforeCost([0, annealing.BestValues[1], 0]));
    }

    [Fact]
    public void Values_are_counted_no_further_than_a_limit_unless_they_are_better_in_order()
    {
        var (values, better, none) = (new long[3], new long[] { 0, long.MaxValue, 0 }, new long[3]);
        Assert.Null(score.EvaluateWithin(draft, values, 0, none));
        Assert.Equal(score.EvaluateWithin(draft, values, 0, better), score.EvaluateWithin(draft, values, double.MaxValue, none));
    }
}
