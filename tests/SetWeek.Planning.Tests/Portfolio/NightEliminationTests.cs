using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Portfolio;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;

namespace SetWeek.Planning.Tests.Portfolio;

/// <summary>
/// Random weeks with an added last night in which everybody is available. Each search starts from a plan that is optimal in the
/// displays left out and ignores the number of nights. The result is compared with the exact minimum of nights.
/// </summary>
public sealed class NightEliminationTests
{
    [Fact]
    public void A_plan_over_more_nights_than_needed_is_shortened()
    {
        var (shortened, optimal, compared) = (0, 0, 0);
        for (var seed = 0; seed < 24; seed++)
        {
            var problem = Problem.Of(WithAddedNight(seed));
            if (CpOptimum.Plan(problem) is not { } plan || CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            var incumbent = new Incumbent(problem);
            incumbent.Offer(plan);
            var before = incumbent.Values!;
            if (before[0] > best[0] || before[1] == best[1]) continue;
            compared++;
            new NightElimination(problem, incumbent, new Budget(new SearchLimits { Effort = 3, Workers = 1 },
                CancellationToken.None))
                .Run(3);
            var after = incumbent.Values!;
            Assert.InRange(after[1], best[1], before[1]);
            Assert.Equal(before[0], after[0]);
            if (after[1] < before[1]) shortened++;
            if (after[1] == best[1]) optimal++;
        }
        Assert.InRange(compared, 3, 40);
        Assert.True(shortened * 2 > compared && optimal * 2 > compared,
            $"{shortened} shortened, {optimal} to the minimum, of {compared}");
    }

    private static Week WithAddedNight(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        var last = week.Nights[^1];
        var added = last with { Id = "added", Opens = last.Opens.PlusHours(24), Closes = last.Closes.PlusHours(24), Bans = [] };
        return week with
        {
            Launch = week.Launch.PlusHours(24),
            Nights = [.. week.Nights, added],
            Crew = [.. week.Crew.Select(member => member with { Available = [.. member.Available, new(added.Id)] })],
            Goals = [new(GoalId.LeftOut), new(GoalId.Nights), new(GoalId.Cost)],
        };
    }
}
