using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Tests.Annealing;

public class RuinTests
{
    [Theory]
    [InlineData("medium", 4), InlineData("large", 8)]
    public void A_ruin_keeps_clean_downs_consistent_and_the_schedule_completable(string size, int seed)
    {
        var compact = new CompactProblem(Problem.Of(PlannerTests.Generated(size, seed)));
        var (personNight, random) = (new ShortestShift(compact), new SplitMix64(seed));
        var insertion = new ActivityInsertion(compact, personNight, random);
        var roster = new Rostering(compact, personNight, new StaffMatching(compact, personNight));
        var ruin = new Ruin(compact, insertion, random, new());
        var (whole, schedule) = (new PartialSchedule(compact), new PartialSchedule(compact));
        Assert.True(new PriorityRuleSampling(
            compact, insertion, new SerialInsertion(compact, insertion, roster), random, new())
            .Construct(whole, InitialPartialSchedule.Of(compact), 0));
        var removed = 0;
        for (var step = 0; step < 300; step++)
        {
            schedule.CopyFrom(whole);
            ruin.Remove(schedule, 1 + step % 6);
            removed += ruin.Removed.Count;
            Assert.All(ruin.Removed, activity => Assert.Equal(-1, schedule.Night[activity]));
            foreach (var final in compact.FinalStints.Where(final => schedule.Night[final] >= 0))
                Assert.DoesNotContain(schedule.Night[final], ruin.Removed.Select(activity => whole.Night[activity]));
            for (var zone = 0; zone < compact.Zones; zone++)
                for (var night = 0; night < compact.Nights; night++)
                    Assert.Equal(schedule.CleanDownDemand[zone * compact.Nights + night] > 0,
                        schedule.Night[compact.CleanDownIndex(zone, night)] >= 0);
            Assert.True(roster.TryRoster(schedule));
        }
        Assert.InRange(removed, 300, 3000);
    }
}
