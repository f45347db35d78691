using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>The weeks of the demo match their direction and are valid.</summary>
public class ScenarioWeekTests
{
    [Theory]
    [InlineData("harbour-street", 90, 12, 10)]
    [InlineData("mill-lane", 85, 11, 7)]
    public void A_week_of_the_demo_is_valid_and_has_its_expected_size(string store, int tasks, int displays, int people)
    {
        var week = Example(store);
        Assert.Equal((tasks, displays, people), (week.Tasks.Count, week.Displays.Count, week.Crew.Count));
        Assert.Equal((6, 6, 4), (week.Nights.Count, week.Store.Zones.Count, week.Kits.Count));
        Assert.All(week.Store.Zones, zone => Assert.True(zone is { MaxPeople: not null, CleanDown: not null }));
        Assert.Single(week.Tasks, task => task.Last);
    }

    [Fact]
    public void Harbour_Street_has_its_displays_and_crew_and_opens_on_a_Saturday()
    {
        var week = Example("harbour-street");
        var alternates = week.Displays.Select(display => display.Alternate?.Display).OfType<string>().ToList();
        Assert.Equal(["umbrella-stand"], alternates);
        Assert.Equal(11, week.Displays.Count - alternates.Count);
        Assert.Equal(2, week.Displays.Count(display => display.Commitment == DisplayCommitment.Want
            && !alternates.Contains(display.Id)));
        Assert.Equal(2, week.Crew.Count(person => person.Keyholder));
        Assert.Equal(1, week.Crew.Count(person => person.Under18));
        Assert.Equal(2, week.Crew.Count(person => person.Commitments.Count > 0));
        Assert.Equal(NodaTime.IsoDayOfWeek.Saturday, week.Launch.DayOfWeek);
    }

    [Fact]
    public void Mill_Lane_builds_the_alternate_is_sent_no_cycle_and_has_a_night_with_a_clock_change()
    {
        var week = Example("mill-lane");
        Assert.DoesNotContain(week.Displays, display => display.Id == "cycle");
        Assert.Equal(DisplayCommitment.Must, week.Displays.Single(display => display.Id == "umbrella-stand").Commitment);
        string[] ofTheCycle = ["cycle", "steel-tie"];
        Assert.DoesNotContain(Items(week), ofTheCycle.Contains);
        Assert.Equal(ofTheCycle, Items(Example("harbour-street")).Except(Items(week)).Order(StringComparer.Ordinal));
        // Europe/London, 31 October 2027: 02:00 becomes 01:00 (tz database), so 19:00 to 02:00 is 8 h.
        var night = Problem.Of(week).Nights[2];
        Assert.Equal(480, night.Closes - night.Opens);
    }

    [Theory, MemberData(nameof(Stores))]
    public void Every_task_has_steps_and_checks_and_dangerous_work_has_a_caution(string store) =>
        Assert.All(Example(store).Tasks, task =>
        {
            Assert.True(task.Steps.Count > 0 && task.Checks.Count > 0, task.Id);
            var harmless = task.Traits.All(trait => trait is "noisy");
            Assert.True(task.Cautions.Count > 0 || harmless, task.Id);
        });

    /// <summary>At most half an hour at a time on a ladder: HSE guidance INDG402, read on a page that reports it.</summary>
    [Theory, MemberData(nameof(Stores))]
    public void Nobody_is_on_a_ladder_for_longer_than_half_an_hour_or_without_somebody_at_its_foot(string store) =>
        Assert.All(Example(store).Tasks.Where(task => Uses(task, "ladder")), task => Assert.All(task.Modes, mode =>
        {
            Assert.True(mode.Minutes <= 30 * task.Stints, task.Id);
            var ladders = mode.Equipment.Single(use => use.Id == "ladder").Count;
            Assert.True(mode.Roles.Sum(role => role.People) >= 2 * ladders, task.Id);
        }));

    /// <summary>Nobody alone with these (common practice, no source): the rules say it for the whole zone.</summary>
    [Theory, MemberData(nameof(Stores))]
    public void Equipment_that_can_hurt_has_its_trait_and_its_check_before_the_first_use(string store)
    {
        var week = Example(store);
        var company = week.Rules.Company.ToDictionary(rule => rule.Trait, rule => rule.People);
        string[] byOneToo = ["noisy", "dust", "paint", "glue", WeekTask.SafetyTrait, WeekTask.WayOutTrait];
        Assert.All(week.Tasks.SelectMany(task => task.Traits).Distinct().Except(byOneToo),
            trait => Assert.True(company[trait] >= 2, trait));
        foreach (var task in week.Tasks)
        {
            foreach (var tool in new[] { "ladder", "platform" })
                Assert.True(!Uses(task, tool) || task.Traits.Contains(tool), task.Id);
            if (Uses(task, "ladder") || Uses(task, "platform") || Uses(task, "drill"))
                Assert.Contains("ready.tools", Before(week, task));
        }
    }

    [Theory, MemberData(nameof(Stores))]
    public void Pieces_are_used_after_their_kit_is_counted_in_and_each_line_suffices(string store)
    {
        var week = Example(store);
        foreach (var task in week.Tasks)
            foreach (var need in task.Needs.Where(need => need.Item is not "carton" && need.Kit != "paint"))
                Assert.Contains($"count.{need.Kit}", Before(week, task));
        foreach (var kit in week.Kits)
            Assert.All(kit.Lines, line => Assert.InRange(week.Tasks.SelectMany(task => task.Needs)
                .Where(need => need.Kit == kit.Id && need.Item == line.Item).Sum(need => need.Count), 1, line.Expected));
    }

    /// <summary>What is half-secured hurts whoever comes in the morning (common practice, no source).</summary>
    [Theory]
    [InlineData("canopy.cloth", "canopy.frame"), InlineData("canopy.carry", "canopy.cloth")]
    [InlineData("canopy.hang", "canopy.carry"), InlineData("canopy.second", "canopy.hang")]
    [InlineData("steps.anchor", "steps.build"), InlineData("steps.pose", "steps.lift"), InlineData("steps.tether", "steps.pose")]
    [InlineData("forms.tether", "forms.bases"), InlineData("forms.check", "forms.pose")]
    [InlineData("cycle.tie", "cycle.mount"), InlineData("line.string", "line.hooks")]
    public void What_is_begun_is_secured_in_the_same_night(string task, string begun) =>
        Assert.Contains(Example("harbour-street").Tasks.Single(other => other.Id == task).After,
            after => after.Task == begun && after.SameNight);

    [Theory, MemberData(nameof(Stores))]
    public void Each_zone_that_sells_is_emptied_once_and_filled_again(string store)
    {
        var week = Example(store);
        foreach (var zone in week.Store.Zones.Where(zone => zone.TradePerDay > 0))
        {
            Assert.Single(week.Tasks, task => task.Zone == zone.Id && task.Empties);
            Assert.Contains(week.Tasks, task => task.Zone == zone.Id && task.Fills);
        }
    }

    public static TheoryData<string> Stores => ["harbour-street", "mill-lane"];

    private static IEnumerable<string> Items(Week week) => week.Kits.SelectMany(kit => kit.Lines).Select(line => line.Item);

    private static bool Uses(WeekTask task, string tool) => task.Modes.Any(mode => mode.Equipment.Any(use => use.Id == tool));

    private static HashSet<string> Before(Week week, WeekTask task)
    {
        HashSet<string> before = [];
        foreach (var after in task.After)
            if (before.Add(after.Task)) before.UnionWith(Before(week, week.Tasks.Single(other => other.Id == after.Task)));
        return before;
    }

    private static Week Example(string store) =>
        WeekFile.Read(ExampleFiles.Read($"{store}.week.json")).Match(week => week, ExampleFiles.Fail<Week>);
}
