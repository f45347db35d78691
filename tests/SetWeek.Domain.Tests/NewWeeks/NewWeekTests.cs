using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.NewWeeks;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Tests.NewWeeks;

/// <summary>What is offered for a new week, and whom it takes over.</summary>
public class NewWeekTests
{
    private static readonly LocalDateTime Launch = new(2027, 3, 13, 9, 0);

    /// <summary>Counted on a calendar: 13 March 2027 is a Saturday, so three nights before it open on Wednesday the 10th.</summary>
    [Theory]
    [InlineData("21:30", "02:00", "2027-03-10T21:30 2027-03-11T02:00")]
    [InlineData("18:00", "23:00", "2027-03-10T18:00 2027-03-10T23:00")]
    [InlineData("00:30", "05:00", "2027-03-11T00:30 2027-03-11T05:00")]
    public void The_nights_are_those_of_the_last_evenings_before_the_launch(string opens, string closes, string first)
    {
        var nights = OfferedNights.Before(Launch, 3, Time(opens), Time(closes), earlier: null);
        Assert.Equal(["night-1", "night-2", "night-3"], nights.Select(night => night.Id));
        Assert.Equal(first, $"{nights[0].Opens:uuuu-MM-dd'T'HH:mm} {nights[0].Closes:uuuu-MM-dd'T'HH:mm}");
        Assert.All(nights.Zip(nights.Skip(1)), pair => Assert.Equal(Period.FromDays(1), pair.Second.Opens - pair.First.Opens));
    }

    [Fact]
    public void A_ban_holds_again_in_the_night_that_lies_as_long_before_the_launch()
    {
        // The example: nights of the 8th and the 9th. Here it is launched on the 11th, and noise is banned in its last night.
        var week = Example.Opened.Week with { Launch = new LocalDateTime(2027, 3, 11, 9, 0) };
        var last = week.Nights[^1];
        var ban = new Ban("noisy", last.Opens.PlusHours(1), last.Opens.PlusHours(2));
        var earlier = week with { Nights = [.. week.Nights.SkipLast(1), last with { Bans = [ban] }] };
        var nights = OfferedNights.Before(Launch, 3, last.Opens.TimeOfDay, last.Closes.TimeOfDay, earlier);
        // Two days before that launch; nothing is nearer to the night one day before this one.
        Ban[][] expected = [[], [ban with { From = ban.From.PlusDays(2), To = ban.To.PlusDays(2) }],
            [ban with { From = ban.From.PlusDays(3), To = ban.To.PlusDays(3) }]];
        Assert.Equal(expected, nights.Select(night => night.Bans.ToArray()));
        Assert.Equal(new UsualNights(2, last.Opens.TimeOfDay, last.Closes.TimeOfDay), UsualNights.Of(earlier));
        Assert.Equal(new UsualNights(5, null, null), UsualNights.Of(null));
    }

    /// <summary>The week files of the demo were made with the rule sets of Great Britain and of the chain.</summary>
    [Theory]
    [InlineData("harbour-street"), InlineData("mill-lane")]
    public void The_rule_sets_of_the_demo_together_are_the_rules_of_its_weeks(string store)
    {
        var week = WeekFile.Read(File.ReadAllBytes(PathOf("docs", "examples", $"{store}.week.json"))).AsT0;
        var rules = StricterRules.Of(RuleSetFile.All.Where(set => set.Id is "great-britain" or "quillmere").Select(set => set.Rules));
        Assert.Equal(WeekFile.Write(week), WeekFile.Write(week with { Rules = rules }));
    }

    [Fact]
    public void Every_rule_set_that_is_shipped_is_offered()
    {
        var files = Directory.GetFiles(PathOf("ops", "rule-sets"), "*.json").Select(Path.GetFileNameWithoutExtension).Order();
        Assert.Equal(files, RuleSetFile.All.Select(set => set.Id));
        Assert.All(RuleSetFile.All, set => Assert.NotEmpty(set.Cited));
    }

    /// <summary>In Oregon the rest is 10 hours, in the European Union 11; overtime is a matter of the first alone.</summary>
    [Fact]
    public void Of_two_numbers_the_stricter_one_counts()
    {
        var both = StricterRules.Of(RuleSetFile.All.Where(set => set.Id is "oregon" or "european-union").Select(set => set.Rules));
        Assert.Equal<(int?, int?, int?)>((660, 2400, 150), (both.MinRestMinutes, both.OvertimeAfterMinutes, both.OvertimePercent));
        var halves = StricterRules.Of([
            new RuleSet { BreakAfterMinutes = 360, MaxShiftMinutes = 600, Company = [new("ladder", 2)], Under18 = new() { Until = Time("22:00") } },
            new RuleSet { BreakAfterMinutes = 300, Company = [new("ladder", 3), new("lift", 2)], Under18 = new() { Until = Time("20:00"), Barred = ["lift"] } }]);
        Assert.Equal<(int?, int?)>((300, 600), (halves.BreakAfterMinutes, halves.MaxShiftMinutes));
        Assert.Equal([new("ladder", 3), new("lift", 2)], halves.Company);
        Assert.Equal<(LocalTime?, string)>((Time("20:00"), "lift"), (halves.Under18!.Until, halves.Under18.Barred.Single()));
    }

    [Fact]
    public void Whoever_is_taken_over_can_come_in_every_night_and_has_worked_nothing_yet()
    {
        var earlier = Example.Crew.With(Example.Crew.Members[0] with
        {
            MinutesAlready = 600, Commitments = [new(Launch, Launch.PlusHours(2))], RatePerHour = 1450,
        });
        var taken = Assert.Single(TakenCrew.Of(earlier, ["p1", "p9", "p1"], [new("night-1", Launch.PlusDays(-1), Launch)]));
        Assert.Equal(("p1", "Asha Rowan", 1450, 0), (taken.Id, taken.Name, taken.RatePerHour, taken.MinutesAlready));
        Assert.Equal([new Availability("night-1")], taken.Available);
        Assert.Empty(taken.Commitments);
    }

    [Fact]
    public void A_week_gets_the_name_of_its_direction_and_store_and_a_number_if_that_is_taken()
    {
        Assert.Equal(["first-rain.mill-lane", "first-rain.mill-lane-2"], NewWeekIds.Of("first-rain", "mill-lane").Take(2));
        Assert.All(NewWeekIds.Of(new string('a', 100), "b"), id => Assert.InRange(id.Length, 1, 100));
        string[] all = [.. NewWeekIds.Of("first-rain", "mill-lane")];
        Assert.Equal(all[1], NewWeekIds.FirstFree("first-rain", "mill-lane", [all[0], all[2]]));
        Assert.Null(NewWeekIds.FirstFree("first-rain", "mill-lane", all));
    }

    /// <summary>The crew joins one by one. Until all are here some work can be done by nobody, which is no new fault.</summary>
    [Fact]
    public void People_join_a_crew_that_cannot_do_the_work_yet()
    {
        var whole = PlanningProblem.WeekOf(Example.Given(), Example.Crew);
        var empty = whole with { Crew = [] };
        Assert.NotEmpty(WeekFile.Check(empty).AsT1.All);
        Assert.True(WeekFile.Check(empty, isCrewComplete: false).IsT0);
        Assert.NotEmpty(CrewGapSentences.Of(empty));
        foreach (var member in whole.Crew) Assert.Empty(RevisionDecisions.NewFaults(empty, empty with { Crew = [member] }));
        Assert.Empty(CrewGapSentences.Of(whole));
        // Once it can do the work, a change after which it cannot is one.
        Assert.NotEmpty(RevisionDecisions.NewFaults(whole, empty));
    }

    /// <summary>What the check of a week finds is said, also what more people of no skill alone would mend.</summary>
    [Fact]
    public void What_the_crew_lacks_is_said_wherever_the_check_finds_it()
    {
        var whole = PlanningProblem.WeekOf(Example.Given(), Example.Crew);
        var young = whole with { Crew = [.. whole.Crew.Select(member => member with { Under18 = true })] };
        Assert.Equal(["Painting needs 1 person who may do “ladder” work at once; the crew has nobody."],
            Missing(Painted(young, ["ladder"], new Mode(60, [new("painting", 1)]))));
        Assert.Equal(["“Paint the wall” needs 3 people at once, each in one role; the crew can fill 2."],
            Missing(Painted(whole, [], new Mode(60, [new("painting", 2), new("cleaning", 1)]))));
        Assert.Equal(["Painting needs 3 people at once for one way to do “Paint the wall”; the crew has 2."],
            Missing(Painted(whole, [], new Mode(30, [new("painting", 3)]), new Mode(60, [new("painting", 1)]))));
        // Nobody is named, and where the skill itself is rare nothing is said of who may use it.
        Assert.Equal(["Painting needs 3 people of level 2 at once; the crew has 2."],
            Missing(Painted(young, ["ladder"], new Mode(60, [new("painting", 3) { Level = 2 }]))));

        static IReadOnlyList<string> Missing(Week week)
        {
            Assert.NotEmpty(WeekFile.Check(week).AsT1.All);
            Assert.True(WeekFile.Check(week, isCrewComplete: false).IsT0);
            return CrewGapSentences.Of(week);
        }
    }

    private static Week Painted(Week week, IReadOnlyList<string> traits, params IReadOnlyList<Mode> modes) => week with
    {
        Rules = new RuleSet { Under18 = new() { Barred = ["ladder"] } },
        Tasks = [.. week.Tasks.Select(task => task.Id != "feature-wall.paint" ? task : task with { Traits = traits, Modes = modes })],
    };

    private static LocalTime Time(string text) => NodaTime.Text.LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text).Value;

    private static string PathOf(params string[] parts)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "SetWeek.sln"))) folder = Path.GetDirectoryName(folder)!;
        return Path.Combine([folder, .. parts]);
    }
}
