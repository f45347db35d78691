using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>The weeks of the demo match their direction and are valid.</summary>
public class ScenarioWeekTests
{
    [Theory]
    [InlineData("harbour-street", 76, 11, 9)]
    [InlineData("mill-lane", 71, 10, 7)]
    public void A_week_of_the_demo_is_valid_and_has_its_expected_size(string store, int tasks, int displays, int people)
    {
        var week = Example(store);
        Assert.Equal((tasks, displays, people), (week.Tasks.Count, week.Displays.Count, week.Crew.Count));
        Assert.Equal((5, 6, 3), (week.Nights.Count, week.Store.Zones.Count, week.Kits.Count));
        Assert.All(week.Store.Zones, zone => Assert.True(zone is { MaxPeople: not null, CleanDown: not null }));
        Assert.Single(week.Tasks, task => task.Last);
    }

    [Fact]
    public void Harbour_Street_has_its_displays_and_crew_and_opens_on_a_Saturday()
    {
        var week = Example("harbour-street");
        var alternates = week.Displays.Select(display => display.Alternate?.Display).OfType<string>().ToList();
        Assert.Equal(["umbrella-stand"], alternates);
        Assert.Equal(10, week.Displays.Count - alternates.Count);
        Assert.Equal(2, week.Displays.Count(display => display.Commitment == DisplayCommitment.Want
            && !alternates.Contains(display.Id)));
        Assert.Equal(2, week.Crew.Count(person => person.Keyholder));
        Assert.Equal(1, week.Crew.Count(person => person.Under18));
        Assert.Equal(2, week.Crew.Count(person => person.Commitments.Count > 0));
        Assert.Equal(NodaTime.IsoDayOfWeek.Saturday, week.Launch.DayOfWeek);
    }

    [Fact]
    public void Mill_Lane_builds_the_alternate_and_has_a_night_with_a_clock_change()
    {
        var week = Example("mill-lane");
        Assert.DoesNotContain(week.Displays, display => display.Id == "cycle");
        Assert.Equal(DisplayCommitment.Must, week.Displays.Single(display => display.Id == "umbrella-stand").Commitment);
        // Europe/London, 28 March 2027: 01:00 becomes 02:00 (tz database), so 19:00 to 02:30 is 6 h 30.
        var night = Problem.Of(week).Nights[2];
        Assert.Equal(390, night.Closes - night.Opens);
    }

    [Theory]
    [InlineData("harbour-street")]
    [InlineData("mill-lane")]
    public void Every_task_has_steps_and_checks_and_dangerous_work_has_a_caution(string store) =>
        Assert.All(Example(store).Tasks, task =>
        {
            Assert.True(task.Steps.Count > 0 && task.Checks.Count > 0, task.Id);
            var dangerous = task.Traits.Any(trait => trait is "ladder" or "lift" or "power" or "paint" or "yard");
            Assert.True(task.Cautions.Count > 0 || !dangerous, task.Id);
            // Ladder work takes two people: one on the ladder, one at its foot (common practice, no source).
            var byTwo = task.Modes.All(mode => mode.Roles.Sum(role => role.People) >= 2);
            Assert.True(byTwo || !task.Traits.Contains("ladder"), task.Id);
        });

    private static Week Example(string store) =>
        WeekFile.Read(ExampleFiles.Read($"{store}.week.json")).Match(week => week, ExampleFiles.Fail<Week>);
}
