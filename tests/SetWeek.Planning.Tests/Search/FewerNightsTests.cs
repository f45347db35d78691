using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Portfolio;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;

namespace SetWeek.Planning.Tests.Search;

/// <summary>
/// Chance weeks with a third night after them that anybody can work, begun from a plan that is the best in what is left out and
/// minds no nights: what the shorter weeks come to, against the exact model's fewest.
/// </summary>
public sealed class FewerNightsTests
{
    [Fact]
    public void A_plan_spread_over_nights_that_it_does_not_need_is_drawn_together()
    {
        var (saved, fewest, looked) = (0, 0, 0);
        for (var seed = 0; seed < 24; seed++)
        {
            var problem = Problem.Of(Longer(seed));
            if (CpOptimum.Plan(problem) is not { } plan || CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            var incumbent = new Incumbent(problem);
            incumbent.Offer(plan);
            var before = incumbent.Values!;
            if (before[0] > best[0] || before[1] == best[1]) continue;
            looked++;
            new NightElimination(problem, incumbent, new Budget(new SearchLimits { Effort = 3, Workers = 1 }, CancellationToken.None))
                .Run(3);
            var after = incumbent.Values!;
            Assert.InRange(after[1], best[1], before[1]);
            Assert.Equal(before[0], after[0]);
            if (after[1] < before[1]) saved++;
            if (after[1] == best[1]) fewest++;
        }
        Assert.InRange(looked, 3, 40);
        Assert.True(saved * 2 > looked && fewest * 2 > looked, $"{saved} drawn together, {fewest} as far as can be, of {looked}");
    }

    private static Week Longer(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        var last = week.Nights[^1];
        var more = last with { Id = "more", Opens = last.Opens.PlusHours(24), Closes = last.Closes.PlusHours(24), Bans = [] };
        return week with
        {
            Launch = week.Launch.PlusHours(24),
            Nights = [.. week.Nights, more],
            Crew = [.. week.Crew.Select(member => member with { Available = [.. member.Available, new(more.Id)] })],
            Goals = [new(GoalId.LeftOut), new(GoalId.Nights), new(GoalId.Cost)],
        };
    }
}
