using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Crews;

public sealed class CrewTests
{
    [Fact]
    public void A_person_joins_at_the_end_of_the_crew_and_only_once()
    {
        Assert.Equal(["p1", "p2", "p3"], Given(Given().Join(Crew, "p3").AsT0).Crew);
        Assert.Equal(new Refusal("in-crew-already", "Asha Rowan already belongs to this crew; change the crew member instead."),
            Given().Join(Crew, "p1").AsT1);
    }

    [Fact]
    public void A_change_names_the_changed_fields_without_their_values()
    {
        var before = Crew.Members[0];
        var changed = Given().ChangeCrew(before, before
            with { RatePerHour = 1400, Available = [new Availability("monday")] }).AsT0;
        Assert.Equal(["ratePerHour", "available"], changed.Changed);
        Assert.Equal(new Refusal("nothing-changed", "Asha Rowan already has these values; there is nothing to change."),
            Given().ChangeCrew(before, before).AsT1);
    }

    /// <summary>A field of a person that no change names is found here.</summary>
    [Fact]
    public void Every_field_of_a_person_is_named_when_it_changes()
    {
        var before = Crew.Members[0];
        var changes = new Dictionary<string, CrewMember>
        {
            [nameof(CrewMember.Name)] = before with { Name = "Somebody else" },
            [nameof(CrewMember.Skills)] = before with { Skills = new Dictionary<string, int> { ["welding"] = 2 } },
            [nameof(CrewMember.Keyholder)] = before with { Keyholder = !before.Keyholder },
            [nameof(CrewMember.Under18)] = before with { Under18 = !before.Under18 },
            [nameof(CrewMember.RatePerHour)] = before with { RatePerHour = before.RatePerHour + 1 },
            [nameof(CrewMember.Available)] = before with { Available = [new Availability("monday", new(2027, 3, 8, 23, 0))] },
            [nameof(CrewMember.Commitments)] =
                before with { Commitments = [new Commitment(new(2027, 3, 8, 9, 0), new(2027, 3, 8, 17, 0))] },
            [nameof(CrewMember.MaxMinutesPerNight)] = before with { MaxMinutesPerNight = 321 },
            [nameof(CrewMember.MaxNights)] = before with { MaxNights = 1 + (before.MaxNights ?? 0) },
            [nameof(CrewMember.MinutesAlready)] = before with { MinutesAlready = before.MinutesAlready + 60 },
        };
        var fields = typeof(CrewMember).GetProperties().Select(field => field.Name).Where(name => name != nameof(CrewMember.Id));
        Assert.Equal(fields.Order(), changes.Keys.Order());
        Assert.All(changes, change => Assert.Equal(
            [$"{char.ToLowerInvariant(change.Key[0])}{change.Key[1..]}"],
            Given().ChangeCrew(before, change.Value).AsT0.Changed));
    }

    [Fact]
    public void An_absence_removes_the_night_from_the_persons_availability()
    {
        var absent = Given().MarkAbsent(Crew, "p1", "monday").AsT0;
        var crew = PlanningProblem.WeekOf(Given(absent), Crew).Crew;
        Assert.Equal(["tuesday"], crew[0].Available.Select(entry => entry.Night));
        Assert.Equal(["monday", "tuesday"], crew[1].Available.Select(entry => entry.Night));
    }

    [Fact]
    public void An_absence_of_an_unknown_person_or_night_is_refused()
    {
        Assert.True(Given().MarkAbsent(Crew, "p9", "monday").AsT1.Unknown);
        Assert.True(Given().MarkAbsent(Crew, "p1", "sunday").AsT1.Unknown);
        Assert.Equal(new Refusal("absent-already", "Asha Rowan is already marked absent for the night of Mon 8 Mar."),
            Given(new PersonAbsent("p1", "monday")).MarkAbsent(Crew, "p1", "monday").AsT1);
    }

    [Fact]
    public void A_person_of_the_crew_is_erased_once()
    {
        Assert.Equal([new PersonErased("p1")], Given().Erase(Crew, "p1").AsT0);
        Assert.Empty(Given().Erase(Crew.Without("p1"), "p1").AsT0);
        Assert.True(Given().Erase(Crew, "p9").AsT1.Unknown);
    }

    [Fact]
    public void An_erased_person_is_not_in_the_planned_crew() =>
        Assert.Equal(["p2"], PlanningProblem.WeekOf(Given(), Crew.Without("p1")).Crew.Select(member => member.Id));
}
