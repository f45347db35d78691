using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Tests.Annealing;

public class RuinAndRecreateTests
{
    private readonly CompactProblem compact = new(Problem.Of(PlannerTests.Generated("medium", 4)));
    private readonly RuinAndRecreate loop;
    private readonly PartialSchedule constructed;

    public RuinAndRecreateTests()
    {
        var (shortestShift, random) = (new ShortestShift(compact), new SplitMix64(1));
        var insertion = new ActivityInsertion(compact, shortestShift, random);
        var rostering = new Rostering(compact, shortestShift, new StaffMatching(compact, shortestShift));
        var serialInsertion = new SerialInsertion(compact, insertion, rostering);
        constructed = new PartialSchedule(compact);
        Assert.True(new PriorityRuleSampling(compact, insertion, serialInsertion, random, new())
            .Construct(constructed, InitialPartialSchedule.Of(compact), 0));
        loop = new RuinAndRecreate(compact, insertion, rostering, serialInsertion, random, new FeasibilityParameters().Step);
        loop.Current.CopyFrom(constructed);
    }

    [Fact]
    public void A_trial_no_dearer_than_the_current_schedule_is_accepted_at_temperature_0()
    {
        Assert.True(loop.Step(new RemoveOneStint(compact, cost: 0), temperature: 0));
        Assert.Equal(0, loop.CurrentCost);
    }

    [Fact]
    public void A_dearer_trial_is_rejected_at_temperature_0_and_leaves_the_current_schedule_as_it_is()
    {
        Assert.False(loop.Step(new RemoveOneStint(compact, cost: 1), temperature: 0));
        Assert.Equal(0, loop.CurrentCost);
        Assert.Equal(constructed.Night, loop.Current.Night);
        Assert.Equal(constructed.StartSlot, loop.Current.StartSlot);
    }

    [Fact]
    public void A_dearer_trial_is_accepted_as_often_as_the_Metropolis_rule_says()
    {
        var accepted = 0;
        for (var step = 0; step < 400; step++)
        {
            loop.CurrentCost = 0;
            if (loop.Step(new RemoveOneStint(compact, cost: 1), temperature: 1)) accepted++;
        }
        // exp(-1) of 400 is 147; the standard deviation is 10.
        Assert.InRange(accepted, 107, 187);
    }

    [Fact]
    public void A_priority_rule_without_noise_draws_nothing()
    {
        var (random, untouched) = (new SplitMix64(3), new SplitMix64(3));
        Assert.Equal(480, new PriorityRule(PriorityKey.LatestEnd).AddNoise(480, random));
        Assert.Equal(untouched.Next(), random.Next());
        var noisy = new PriorityRule(PriorityKey.LatestEnd, RelativeNoise: 0.5, Noise: 10);
        Assert.InRange(noisy.AddNoise(480, random), 480, 730);
        untouched.Next();
        Assert.Equal(untouched.Next(), random.Next());
    }

    /// <summary>
    /// Annealing draws worked time, level and share of versatility, delay, noise; the others pay instead of delay.
    /// </summary>
    [Fact]
    public void Each_search_draws_as_many_prices_as_its_parameters_vary()
    {
        Assert.Equal(5, DrawsOf(new AnnealingParameters().Step.Prices));
        Assert.Equal(4, DrawsOf(new RepairParameters().Step.Prices));
        Assert.Equal(4, DrawsOf(new FeasibilityParameters().Step.Prices));
    }

    private int DrawsOf(PriceDistribution distribution)
    {
        var (random, counted) = (new SplitMix64(5), new SplitMix64(5));
        distribution.Draw(InsertionPrices.For(compact.Problem), compact, random);
        var next = random.Next();
        for (var draws = 0; draws < 20; draws++) if (counted.Next() == next) return draws;
        return -1;
    }

    private sealed class RemoveOneStint(CompactProblem compact, double cost) : IRuinAndRecreateSearch
    {
        public void Remove(PartialSchedule trial) =>
            trial.Remove(compact.Activities.First(activity => activity.Task >= 0 && trial.Night[activity.Index] >= 0).Index);

        public bool ChangeChoices(PartialSchedule trial) => false;

        public double? CostWithin(PartialSchedule trial, double limit) => cost > limit ? null : cost;
    }
}
