using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Tests.Search;

public class RuinTests
{
    [Theory]
    [InlineData("medium", 4), InlineData("large", 8)]
    public void A_ruin_leaves_what_must_stay_and_every_zone_worked_in_has_its_clean_down(string size, int seed)
    {
        var image = new Image(Problem.Of(PlannerTests.Generated(size, seed)));
        var (personNight, chance) = (new PersonNight(image), new Chance(seed));
        var placer = new Placer(image, personNight, chance);
        var roster = new Roster(image, personNight, new Crewing(image, personNight));
        var ruin = new Ruin(image, placer, chance);
        var (whole, draft) = (new Draft(image), new Draft(image));
        Assert.True(new FirstPlans(image, placer, new Recreation(image, placer, roster), chance)
            .Build(whole, Beginning.Of(image), 0));
        var took = 0;
        for (var step = 0; step < 300; step++)
        {
            draft.CopyFrom(whole);
            ruin.Take(draft, 1 + step % 6);
            took += ruin.Taken.Count;
            Assert.All(ruin.Taken, job => Assert.Equal(-1, draft.Night[job]));
            foreach (var final in image.Finals.Where(final => draft.Night[final] >= 0))
                Assert.DoesNotContain(draft.Night[final], ruin.Taken.Select(job => whole.Night[job]));
            for (var zone = 0; zone < image.Zones; zone++)
                for (var night = 0; night < image.Nights; night++)
                    Assert.Equal(draft.Soiled[zone * image.Nights + night] > 0, draft.Night[image.CleanDown(zone, night)] >= 0);
            Assert.True(roster.Settle(draft));
        }
        Assert.InRange(took, 300, 3000);
    }
}
