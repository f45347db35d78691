using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Crews;

public sealed class CrewTests
{
    [Fact]
    public void Somebody_joins_at_the_end_of_the_crew_and_only_once()
    {
        Assert.Equal(["p1", "p2", "p3"], Given(Given().Join("p3").AsT0).Crew);
        Assert.Equal("in-crew-already", Given().Join("p1").AsT1.Code);
    }

    [Fact]
    public void A_change_says_which_particulars_changed_and_not_to_what()
    {
        var before = Crew.Members[0];
        var changed = Given().ChangeCrew(before, before
            with { RatePerHour = 1400, Available = [new Availability("monday")] }).AsT0;
        Assert.Equal(["ratePerHour", "available"], changed.Changed);
        Assert.Equal("nothing-changed", Given().ChangeCrew(before, before).AsT1.Code);
    }

    [Fact]
    public void An_absence_takes_the_night_out_of_what_the_planner_may_use()
    {
        var absent = Given().MarkAbsent("p1", "monday").AsT0;
        var crew = PlanningProblem.WeekOf(Given(absent), Crew).Crew;
        Assert.Equal(["tuesday"], crew[0].Available.Select(entry => entry.Night));
        Assert.Equal(["monday", "tuesday"], crew[1].Available.Select(entry => entry.Night));
    }

    [Fact]
    public void An_absence_is_of_somebody_and_of_a_night_that_there_is()
    {
        Assert.True(Given().MarkAbsent("p9", "monday").AsT1.Unknown);
        Assert.True(Given().MarkAbsent("p1", "sunday").AsT1.Unknown);
        Assert.Equal("absent-already", Given(new PersonAbsent("p1", "monday")).MarkAbsent("p1", "monday").AsT1.Code);
    }

    [Fact]
    public void Somebody_is_erased_once_and_only_of_the_crew()
    {
        Assert.Equal(new PersonErased("p1"), Given().Erase(Crew, "p1").AsT0);
        Assert.Equal("erased-already", Given().Erase(Crew.Without("p1"), "p1").AsT1.Code);
        Assert.True(Given().Erase(Crew, "p9").AsT1.Unknown);
    }

    [Fact]
    public void Somebody_who_was_erased_is_not_of_the_crew_that_is_planned() =>
        Assert.Equal(["p2"], PlanningProblem.WeekOf(Given(), Crew.Without("p1")).Crew.Select(member => member.Id));
}
