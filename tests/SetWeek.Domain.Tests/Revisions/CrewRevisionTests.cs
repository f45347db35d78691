using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;
using static SetWeek.Domain.Tests.Revisions.RevisedWeek;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>A revision of the crew's hours and of the pins.</summary>
public sealed class CrewRevisionTests
{
    [Fact]
    public void One_more_person_joins_and_their_particulars_lie_in_the_crew_file()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new ExtraPerson("monday", "painting", 2)]));
        Assert.Equal([new CrewJoined("one-more.1")], revision.Events);
        Assert.Equal(1300, revision.Crew.Find("one-more.1")!.RatePerHour);
        Assert.True(revision.ConcernsCrew);
    }

    [Fact]
    public void Hours_lost_in_a_whole_night_are_an_absence_and_other_hours_a_change()
    {
        var absent = Revised(Given(), week => WeekChange.Apply(week, [new Absence("p1", "monday")]));
        Assert.Equal([new PersonAbsent("p1", "monday")], absent.Events);
        Assert.Same(Crew, absent.Crew);
        var later = Revised(Given(new PersonAbsent("p1", "monday")),
            week => week with { Crew = [week.Crew[0] with { Available = [new("tuesday", MondayOpens.PlusDays(1).PlusHours(1))] },
                week.Crew[1]] });
        Assert.Equal(["available"], Assert.IsType<CrewChanged>(Assert.Single(later.Events)).Changed);
        // The hours of the absence stay stored, in case it is taken back.
        Assert.Contains(later.Crew.Find("p1")!.Available, entry => entry.Night == "monday");
    }

    [Fact]
    public void Pins_have_ids_and_one_of_an_absent_person_lapses_without_being_taken_away()
    {
        var pin = new ShiftPin("p1", "monday") { Off = true };
        var pinned = Assert.IsType<Pinned>(Assert.Single(Revised(Given(), week => week with { Pins = [pin] }).Events));
        Assert.Equal(new Pinned("pin-1", pin), pinned);
        Assert.Equal([new PersonAbsent("p1", "monday")],
            Revised(Given(pinned), week => WeekChange.Apply(week, [new Absence("p1", "monday")])).Events);
        Assert.Equal([new Unpinned("pin-1")], Revised(Given(pinned), week => week with { Pins = [] }).Events);
        // A number is never used twice.
        Assert.Equal("pin-2", Assert.IsType<Pinned>(Assert.Single(Revised(Given(pinned, new Unpinned("pin-1")),
            week => week with { Pins = [pin] }).Events)).Id);
    }

    /// <summary>A pin on p1 and p2 is a pin on p1 alone while p2 is absent. Both ways to say it name the same pin.</summary>
    [Fact]
    public void A_pin_is_found_as_it_was_set_and_as_it_binds()
    {
        var both = new StintPin("feature-wall.paint") { Night = "monday", People = ["p1", "p2"] };
        var off = new ShiftPin("p2", "monday") { Off = true };
        var week = Given(new Pinned("pin-1", both), new Pinned("pin-2", off), new PersonAbsent("p2", "monday"));
        Assert.Equal("pin-1", week.FindPin(Crew, both with { People = ["p1"] })?.Id);
        Assert.Equal("pin-1", week.FindPin(Crew, both)?.Id);
        Assert.Equal(both, week.FindPin(Crew, both)?.Pin);
        Assert.Equal("pin-2", week.FindPin(Crew, off)?.Id);
        Assert.Null(week.FindPin(Crew, both with { People = ["p2"] }));
    }
}
