using System.Text.Json;
using SetWeek.Model.Changes;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Changes;

public class ChangeTests
{
    private static readonly Week Week = TinyWeek.New
        .Kit("canopy", "2027-03-10T18:00", new KitLine("pole", 4) { Received = 3, Damaged = 1 },
            new KitLine("leaflet", 10)).Equipment("ladder", 1).Zone("wall", zone => zone with { MaxPeople = 1 })
        .Display("banner", display => display)
        .Display("wall", display => display with { Alternate = new("banner", 40) })
        .Task("paint", 60, task =>
            task with { Due = "mon", Estimate = new(30, 120), Modes = [new(60, [new("hands", 1)]), new(45, [new("hands", 2)])] })
        .Task("hang", 30, task => task with { Display = "banner", Needs = [new("canopy") { Item = "pole", Count = 4 }] })
        .Task("read", 30, task => task with { Needs = [new("canopy") { Item = "leaflet" }] }).Week;

    private static readonly JsonSerializerOptions Options = new() { Converters = { new WeekChangeConverter() } };

    private static readonly WeekChange[] OneOfEachKind =
    [
        new ExtraPerson("tue", "hands", 2, Keyholder: true),
        new NightWindowMoved("tue", Opens: TinyWeek.Local("2027-03-09T21:00"), Closes: TinyWeek.Local("2027-03-10T06:30")),
        new KitEtaMoved("canopy", TinyWeek.Local("2027-03-09T12:00")), new KitEtaMoved("canopy", null),
        new DueMoved("paint", "wed"), new LeaveOut("wall"), new UseAlternate("wall"), new ZoneCapacity("wall", 3),
        new Absence("ana", "mon"), new EquipmentCount("ladder", 0), new TaskMinutes("paint", 90),
        new LaunchTimeMoved(TinyWeek.Local("2027-03-12T09:00")), new ExtraKeyholder("mon"),
        new MissingPiecesDelivered("canopy", "pole", TinyWeek.Local("2027-03-11T22:30")),
        new MissingPiecesSettled("canopy", "pole"),
    ];

    public static TheoryData<WeekChange> EveryKind => new(OneOfEachKind);

    [Theory, MemberData(nameof(EveryKind))]
    public void A_change_makes_another_valid_week_and_says_so_in_a_sentence(WeekChange change)
    {
        var changed = change.Apply(Week);

        Assert.NotEqual(WeekFile.Write(Week), WeekFile.Write(changed));
        Assert.True(WeekFile.Check(changed).IsT0, string.Join(" ", WeekFile.Check(changed).Match(_ => [], faults => faults.All)));
        Assert.Matches("^[“A-Za-z].*\\.$", change.Sentence(Week));
    }

    [Theory, MemberData(nameof(EveryKind))]
    public void A_change_is_unchanged_by_writing_and_reading(WeekChange change)
    {
        var written = JsonSerializer.SerializeToUtf8Bytes(change, Options);

        Assert.Equal(change, JsonCursor.Read(written, ChangeFormat.Read).AsT0);
        Assert.Equal(change, JsonSerializer.Deserialize<WeekChange>(written, Options));
    }

    [Fact]
    public void The_samples_cover_every_kind() =>
        Assert.Equal(AllChanges.ByKind.Keys.Order(), OneOfEachKind.Select(change => change.Kind).Distinct().Order());

    [Fact]
    public void An_id_in_a_change_that_the_week_does_not_have_is_a_fault()
    {
        Assert.Equal(["/kit"], ChangeFormat.Faults(new KitEtaMoved("no-such", null), Week).Select(fault => fault.Pointer));
        Assert.Equal(["/display"], ChangeFormat.Faults(new UseAlternate("banner"), Week).Select(fault => fault.Pointer));
        Assert.Equal(["/person", "/night"], ChangeFormat.Faults(new Absence("zoe", "sun"), Week).Select(fault => fault.Pointer));
    }

    /// <summary>A fact outweighs what was pinned before it was known.</summary>
    [Fact]
    public void What_is_pinned_of_an_absent_person_lapses()
    {
        Pin[] others = [new ShiftPin("ana", "tue"), new ShiftPin("bo", "mon"), new StintPin("paint") { Night = "tue", People = ["ana"] }];
        var pinned = Week with
        {
            Pins = [new ShiftPin("ana", "mon"), new StintPin("paint") { Night = "mon", People = ["ana", "bo"] }, .. others],
        };
        Assert.Equivalent((Pin[])[new StintPin("paint") { Night = "mon", People = ["bo"] }, .. others],
            new Absence("ana", "mon").Apply(pinned).Pins, strict: true);
    }

    [Fact]
    public void An_item_that_the_kit_does_not_have_is_a_fault()
    {
        Assert.Equal(["/item"], ChangeFormat.Faults(new MissingPiecesSettled("canopy", "rope"), Week)
            .Select(fault => fault.Pointer));
        Assert.Equal(["/kit"], ChangeFormat.Faults(new MissingPiecesSettled("props", "pole"), Week)
            .Select(fault => fault.Pointer));
    }

    /// <summary>Two of four poles are good. Hanging needs four; reading needs another line of the same kit.</summary>
    [Fact]
    public void Completed_pieces_hold_up_only_the_work_that_needs_them()
    {
        var by = TinyWeek.Local("2027-03-11T22:30");
        var problem = Problem.Of(new MissingPiecesDelivered("canopy", "pole", by).Apply(Week));
        Assert.Equal(Problem.Never, Problem.Of(Week).Tasks[1].Release);
        Assert.Equal([problem.Grid.MinuteOf(by), problem.Grid.MinuteOf(TinyWeek.Local("2027-03-10T18:00"))],
            problem.Tasks.Skip(1).Select(task => task.Release));
    }

    [Fact]
    public void Settling_says_what_goes_without()
    {
        Assert.Equal("You decide to go without 2 of the 4 “pole” of the kit “canopy” that “hang” needs.",
            new MissingPiecesSettled("canopy", "pole").Sentence(Week));
        var problem = Problem.Of(new MissingPiecesSettled("canopy", "pole").Apply(Week));
        Assert.Equal(problem.Grid.MinuteOf(TinyWeek.Local("2027-03-10T18:00")), problem.Tasks[1].Release);
    }

    /// <summary>Bo at 15.00 is the best paid keyholder; Cy at 20.00 has no keys.</summary>
    [Fact]
    public void An_extra_keyholder_has_no_skill_and_is_paid_like_the_best_paid_keyholder()
    {
        var week = TinyWeek.New.Person("bo", bo => bo with { RatePerHour = 1500 }).Person("cy", cy => cy with { RatePerHour = 2000 });
        var extra = new ExtraKeyholder("tue").Apply(week.Week).Crew[^1];
        Assert.Equal((true, 1500, 0), (extra.Keyholder, extra.RatePerHour, extra.Skills.Count));
        Assert.Equal([new Availability("tue")], extra.Available);
    }

    [Fact]
    public void A_change_of_an_unknown_kind_has_one_fault()
    {
        var faults = JsonCursor.Read("""{"kind": "rain", "night": "mon", "drops": 4}"""u8.ToArray(), ChangeFormat.Read).AsT1;

        Assert.Equal(["/kind"], faults.All.Select(fault => fault.Pointer));
    }

    [Fact]
    public void Sentences_name_nights_by_their_dates_and_hours_without_dates()
    {
        Assert.Equal("Ana cannot come in the night of Mon 8 Mar.", new Absence("ana", "mon").Sentence(Week));
        Assert.Equal("The night of Tue 9 Mar opens at 21:00 instead of 22:00 and closes at 06:30 instead of 06:00.",
            OneOfEachKind[1].Sentence(Week));
    }

    /// <summary>Bo at 15.00 is the best paid keyholder with the skill. Cy at 20.00 has no keys.</summary>
    [Fact]
    public void An_extra_person_is_paid_like_the_best_paid_person_who_qualifies()
    {
        var week = new TinyWeek(Week).Person("bo", bo => bo with { RatePerHour = 1500 })
            .Person("cy", cy => cy with { RatePerHour = 2000 }).Week;

        var extra = new ExtraPerson("tue", "hands", 2, Keyholder: true).Apply(week).Crew[^1];

        Assert.Equal((1500, "tue"), (extra.RatePerHour, extra.Available.Single().Night));
    }

    [Fact]
    public void Two_extra_people_have_different_ids() =>
        Assert.Equal(5, WeekChange.Apply(Week, [new ExtraPerson("tue", "hands"), new ExtraPerson("tue", "hands")]).Crew
            .Select(member => member.Id).Distinct().Count());

    /// <summary>
    /// 60 minutes become 90, so 45 of the second mode become 67.5, rounded up. The estimates of 30 and 120 scale too.
    /// </summary>
    [Fact]
    public void A_task_that_takes_longer_takes_longer_in_every_mode()
    {
        var task = new TaskMinutes("paint", 90).Apply(Week).Tasks[0];

        Assert.Equal([90, 68], task.Modes.Select(mode => mode.Minutes));
        Assert.Equal(new Estimate(45, 180), task.Estimate);
    }
}
