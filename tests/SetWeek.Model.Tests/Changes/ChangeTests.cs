using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Changes;

public class ChangeTests
{
    private static readonly Week Week = TinyWeek.New
        .Kit("canopy", "2027-03-10T18:00").Equipment("ladder", 1).Zone("wall", zone => zone with { MaxPeople = 1 })
        .Display("banner", display => display)
        .Display("wall", display => display with { Alternate = new("banner", 40) })
        .Task("paint", 60, task =>
            task with { Due = "mon", Estimate = new(30, 120), Modes = [new(60, [new("hands", 1)]), new(45, [new("hands", 2)])] })
        .Task("hang", 30, task => task with { Display = "banner" }).Week;

    private static readonly WeekChange[] OfEveryKind =
    [
        new ExtraPerson("tue", "hands", 2, Keyholder: true),
        new NightWindowMoved("tue", Opens: TinyWeek.Local("2027-03-09T21:00"), Closes: TinyWeek.Local("2027-03-10T06:30")),
        new KitEtaMoved("canopy", TinyWeek.Local("2027-03-09T12:00")), new KitEtaMoved("canopy", null),
        new DueMoved("paint", "wed"), new LeaveOut("wall"), new UseAlternate("wall"), new ZoneCapacity("wall", 3),
        new Absence("ana", "mon"), new EquipmentCount("ladder", 0), new TaskMinutes("paint", 90),
        new LaunchMoved(TinyWeek.Local("2027-03-12T09:00")),
    ];

    public static TheoryData<WeekChange> EveryKind => new(OfEveryKind);

    [Theory, MemberData(nameof(EveryKind))]
    public void A_change_makes_another_valid_week_and_says_so_in_a_sentence(WeekChange change)
    {
        var changed = change.Apply(Week);

        Assert.NotEqual(WeekFile.Write(Week), WeekFile.Write(changed));
        Assert.True(WeekFile.Check(changed).IsT0, string.Join(" ", WeekFile.Check(changed).Match(_ => [], faults => faults.All)));
        Assert.Matches("^[“A-Za-z].*\\.$", change.Sentence(Week));
    }

    [Theory, MemberData(nameof(EveryKind))]
    public void A_change_is_written_and_read_as_the_same(WeekChange change)
    {
        var written = System.Text.Json.JsonSerializer.SerializeToUtf8Bytes(change);

        Assert.Equal(change, JsonCursor.Read(written, ChangeFormat.Read).AsT0);
        Assert.Equal(change, System.Text.Json.JsonSerializer.Deserialize<WeekChange>(written));
    }

    [Fact]
    public void Every_kind_is_tried_here() =>
        Assert.Equal(AllChanges.ByKind.Keys.Order(), OfEveryKind.Select(change => change.Kind).Distinct().Order());

    [Fact]
    public void What_a_change_names_and_the_week_does_not_have_is_a_fault_with_its_place()
    {
        Assert.Equal(["/kit"], ChangeFormat.Faults(new KitEtaMoved("no-such", null), Week).Select(fault => fault.Pointer));
        Assert.Equal(["/display"], ChangeFormat.Faults(new UseAlternate("banner"), Week).Select(fault => fault.Pointer));
        Assert.Equal(["/person", "/night"], ChangeFormat.Faults(new Absence("zoe", "sun"), Week).Select(fault => fault.Pointer));
    }

    [Fact]
    public void Of_a_kind_that_is_not_known_nothing_else_is_said()
    {
        var faults = JsonCursor.Read("""{"kind": "rain", "night": "mon", "drops": 4}"""u8.ToArray(), ChangeFormat.Read).AsT1;

        Assert.Equal(["/kind"], faults.All.Select(fault => fault.Pointer));
    }

    /// <summary>Ids are for programs.</summary>
    [Fact]
    public void A_night_is_said_by_its_day_and_its_hours_without_the_day_that_they_were_on()
    {
        Assert.Equal("Ana cannot come in the night of Mon 8 Mar.", new Absence("ana", "mon").Sentence(Week));
        Assert.Equal("The night of Tue 9 Mar opens at 21:00 instead of 22:00 and closes at 06:30 instead of 06:00.",
            OfEveryKind[1].Sentence(Week));
    }

    /// <summary>The best paid who could do it is Bo, at 15.00; Cy at 20.00 has not the keys.</summary>
    [Fact]
    public void One_more_person_is_paid_like_the_best_paid_who_can_do_the_same()
    {
        var week = new TinyWeek(Week).Person("bo", bo => bo with { RatePerHour = 1500 })
            .Person("cy", cy => cy with { RatePerHour = 2000 }).Week;

        var more = new ExtraPerson("tue", "hands", 2, Keyholder: true).Apply(week).Crew[^1];

        Assert.Equal((1500, "tue"), (more.RatePerHour, more.Available.Single().Night));
    }

    [Fact]
    public void Two_more_people_are_two_people() =>
        Assert.Equal(5, WeekChange.Apply(Week, [new ExtraPerson("tue", "hands"), new ExtraPerson("tue", "hands")]).Crew
            .Select(one => one.Id).Distinct().Count());

    /// <summary>90 minutes for 60: the second mode of 45 takes 67.5, rounded up; so do the estimates of 30 and 120.</summary>
    [Fact]
    public void A_task_that_takes_longer_takes_longer_in_every_mode()
    {
        var task = new TaskMinutes("paint", 90).Apply(Week).Tasks[0];

        Assert.Equal([90, 68], task.Modes.Select(mode => mode.Minutes));
        Assert.Equal(new Estimate(45, 180), task.Estimate);
    }
}
