using System.Collections.Concurrent;
using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Search;

namespace SetWeek.Planning.Tests.Options;

/// <summary>
/// What a re-plan offers, over generated weeks put out by a fact: that each option is a whole plan of the week as it stands, that
/// none beats another and none is nearly another. (From the definition of options alone; no outside source.)
/// </summary>
public class OptionSearchTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.3, Workers = 1 }, Options = new() { Effort = 0.8, Workers = 1 };

    /// <summary>Each asked once for all tests.</summary>
    private static readonly ConcurrentDictionary<(string, int, string), Lazy<(Week Week, Replan Replan, ReplanOffer Offer)>> Asked = [];

    public static TheoryData<string, int, string> Cases => new()
    {
        { "small", 4, "kit" }, { "small", 15, "kit" }, { "small", 15, "person" }, { "small", 6, "night" }, { "medium", 4, "kit" },
    };

    [Theory, MemberData(nameof(Cases))]
    public void Each_option_keeps_every_rule_of_the_week_as_it_stands_and_what_it_says_of_itself_is_so(string size,
        int seed, string fact)
    {
        var (week, replan, offer) = Offered(size, seed, fact);
        var problem = Problem.Of(week, replan);
        Assert.All(offer.Options, option =>
        {
            Assert.Empty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, option.Plan)));
            Assert.Empty(PlanAudit.Discrepancies(problem, option.Plan));
            Assert.All(option.Costs, cost => Assert.Equal(PlanAudit.Measure(problem, option.Plan, cost.Goal), cost.Value));
        });
    }

    [Theory, MemberData(nameof(Cases))]
    public void At_most_three_are_shown_each_of_its_own_kind_with_the_same_goals_side_by_side(string size, int seed, string fact)
    {
        var options = Offered(size, seed, fact).Offer.Options;
        Assert.InRange(options.Count, 1, 3);
        Assert.Equal(options.Count, options.Select(option => option.Id).Distinct().Count());
        Assert.All(options, option =>
            Assert.Equal(options[0].Costs.Select(cost => cost.Goal), option.Costs.Select(cost => cost.Goal)));
    }

    [Theory, MemberData(nameof(Cases))]
    public void None_shown_beats_another_or_is_nearly_another(string size, int seed, string fact)
    {
        var options = Offered(size, seed, fact).Offer.Options;
        foreach (var one in options)
            foreach (var other in options.Where(other => other != one))
            {
                Assert.Contains(one.Costs.Zip(other.Costs), pair => pair.First.Value < pair.Second.Value);
                Assert.False(OptionSelection.IsNearlyEqual(one, other), $"{one.Id} is nearly {other.Id}.");
            }
    }

    [Fact]
    public void The_same_effort_gives_the_same_options()
    {
        var (week, replan, offer) = Offered("small", 15, "kit");
        var again = OptionSearch.Find(week, Options, replan);
        Assert.Equal(offer.Options.Select(option => option.Id), again.Options.Select(option => option.Id));
        Assert.Equal(offer.Options.SelectMany(option => option.Costs), again.Options.SelectMany(option => option.Costs));
    }

    [Fact]
    public void Where_nothing_has_to_change_one_option_is_to_change_nothing()
    {
        var week = PlannerTests.Generated("small", 4);
        var published = Planner.Plan(week, Short);
        var offer = OptionSearch.Find(week, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Equal(("fewest-changes", 0), (offer.Options[0].Id, offer.Options[0].Cost(GoalId.Changes)));
    }

    [Fact]
    public void A_week_without_a_plan_has_no_options_and_says_so()
    {
        var week = PlannerTests.Generated("small", 4);
        var published = Planner.Plan(week, Short);
        var none = week with { Crew = [.. week.Crew.Select(member => member with { Available = [] })] };
        var offer = OptionSearch.Find(none, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Empty(offer.Options);
        Assert.Equal(PlanStatus.Infeasible, offer.Plan.Status);
    }

    [Fact]
    public void Watchers_see_options_from_the_first_on()
    {
        var (week, replan, _) = Offered("small", 15, "kit");
        var seen = new List<OptionSearchProgress>();
        OptionSearch.Find(week, Options, replan, seen.Add);
        Assert.Equal("fewest-changes", Assert.Single(seen[0].Options).Id);
        Assert.All(seen, sighting => Assert.InRange(sighting.Options.Count, 1, 3));
    }

    private static (Week Week, Replan Replan, ReplanOffer Offer) Offered(string size, int seed, string fact) =>
        Asked.GetOrAdd((size, seed, fact), _ => new(() => Ask(size, seed, fact))).Value;

    private static (Week Week, Replan Replan, ReplanOffer Offer) Ask(string size, int seed, string fact)
    {
        var week = PlannerTests.Generated(size, seed);
        var published = Planner.Plan(week, Short);
        var kit = week.Kits.Single(kit => kit.Id == "kit-signs");
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        WeekChange change = fact switch
        {
            "kit" => new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusDays(1)),
            "person" => new Absence(third.Shifts.First(shift => shift.Person != third.Keyholder).Person, third.Night),
            _ => new NightWindowMoved(third.Night, Closes: week.Nights[2].Closes.PlusMinutes(-30)),
        };
        var replan = new Replan(published, week.Nights[0].Opens.PlusHours(-10), []);
        var changed = change.Apply(week);
        return (changed, replan, OptionSearch.Find(changed, Options, replan));
    }
}
