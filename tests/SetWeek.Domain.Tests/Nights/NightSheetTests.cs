using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>Monday of the example: Ben paints in two stints, Asha cleans down; both leave at 23:30.</summary>
public sealed class NightSheetTests
{
    private static readonly WorkStarted Started = new("r1", "feature-wall.paint", 1, "monday", At(21, 50));
    private static readonly WorkFinished Finished = new("r2", "feature-wall.paint", 1, "monday", At(22, 20), ["p2", "p1"]);

    private static readonly LocalDateTime Leaves = MondayOpens.PlusMinutes(135);

    /// <summary>
    /// The clean-down ends with Asha's shift, so it starts at 23:15 at the latest; the stints of half an hour before it at 22:45
    /// and 22:15.
    /// </summary>
    [Fact]
    public void Each_piece_has_its_number_its_latest_start_and_what_it_frees()
    {
        var sheet = SheetOf(Given(Published));
        Assert.Equal((1, 1, "plan-1", true), (sheet.Number, sheet.Issue, sheet.Plan, sheet.Holds));
        Assert.Equal([(101, "feature-wall.paint", 1), (102, "feature-wall.paint", 2), (103, null, null)],
            sheet.Pieces.Select(piece => (piece.Number, piece.Task, piece.Stint)));
        Assert.Equal([(At(22, 15), At(22, 45)), (At(22, 45), At(23, 15)), (At(23, 15), At(23, 30))],
            sheet.Pieces.Select(piece => (piece.LatestStart!.Value, piece.LatestEnd!.Value)));
        Assert.Equal([102], sheet.Pieces[0].Frees);
        Assert.Empty(sheet.Pieces[1].Frees);
        // The first stint is waited for, and a clean-down is never put off.
        Assert.Equal([102], sheet.DropFirst);
        Assert.Equal([null, 1, null], sheet.Pieces.Select(piece => piece.Drop));
        Assert.Equal(["Paint the wall", "Paint the wall", "Clean-down"], sheet.Pieces.Select(piece => piece.Name));
        Assert.Equal(("paint", "Paint", "tin", 2, 3), Assert.Single(sheet.Pieces[0].Kits) is var line
            ? (line.Kit, line.KitName, line.Item, line.Needed, line.Expected) : default);
        Assert.Equal(new SheetPerson("p1", "Asha Rowan"), sheet.Keyholder);
        Assert.Equal((At(21, 30), "Ben Marsh"), (sheet.Opens, Assert.Single(sheet.Pieces[0].People).Name));
    }

    [Fact]
    public void Begun_work_has_no_latest_start_and_done_work_no_latest_end()
    {
        var running = SheetOf(Given(Published, Started)).Pieces[0];
        Assert.Equal((ReportedState.Running, At(21, 50), null, At(22, 45)),
            (running.Report!.State, running.Report.From!.Value, running.LatestStart, running.LatestEnd!.Value));
        var done = SheetOf(Given(Published, Started, Finished)).Pieces[0];
        Assert.Equal((ReportedState.Done, At(22, 20), null, null),
            (done.Report!.State, done.Report.To!.Value, done.LatestStart, done.LatestEnd));
        Assert.Equal(["Ben Marsh", "Asha Rowan"], done.Report.People!.Select(person => person.Name));
    }

    [Fact]
    public void What_has_begun_is_not_put_off()
    {
        var begun = new WorkStarted("r3", "feature-wall.paint", 2, "monday", At(22, 20));
        Assert.Empty(SheetOf(Given(Published, Started, Finished, begun)).DropFirst);
        var blocked = new WorkBlocked("r4", "feature-wall.paint", 2, At(22, 20), "kit-short", null, null);
        Assert.Equal([102], SheetOf(Given(Published, Started, Finished, blocked)).DropFirst);
    }

    /// <summary>Asha helped with the first stint, as reported; she does the clean-down, as planned.</summary>
    [Fact]
    public void The_order_of_a_person_is_as_reported_and_otherwise_as_planned()
    {
        var begun = new WorkStarted("r3", "feature-wall.paint", 2, "monday", At(22, 20));
        var week = Given(Published, Started, Finished, begun);
        var bens = SheetOf(week, "p2");
        Assert.Equal("101 | 102 | ", InWords(bens.Order!));
        Assert.Equal(["Asha Rowan"], bens.Pieces[0].Partners!.Select(partner => partner.Name));
        Assert.Empty(bens.Pieces[1].Partners!);
        var ashas = SheetOf(week, "p1");
        Assert.Equal("101 |  | 103", InWords(ashas.Order!));
        Assert.Equal([101, 103], ashas.Pieces.Select(piece => piece.Number));
    }

    [Fact]
    public void Absent_people_stops_and_bans_are_on_the_sheet()
    {
        var opened = Opened with
        {
            Week = Opened.Week with
            {
                Nights = [Opened.Week.Nights[0] with { Bans = [new Ban("noisy", MondayOpens, MondayOpens.PlusHours(1))] },
                    Opened.Week.Nights[1]],
            },
        };
        var week = ((IWeekEvent[])[opened, Published, new PersonAbsent("p2", "monday"), new PersonAbsent("p1", "tuesday"),
            new WorkStopped("r9", "monday", "wall", At(22, 30))]).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        var sheet = SheetOf(week);
        Assert.Equal([new SheetPerson("p2", "Ben Marsh")], sheet.Absent);
        Assert.Equal([new SheetStop("r9", "wall", "Feature wall", At(22, 30))], sheet.Stops);
        Assert.Equal([new SheetBan("noisy", At(21, 30), At(22, 30))], sheet.Bans);
    }

    /// <summary>
    /// Ben is under 18 and leaves by 23:30; Asha has said that she can stay until 23:45. The sheet tells both alike.
    /// </summary>
    [Fact]
    public void Who_has_to_leave_early_is_told_and_why_is_not()
    {
        var crew = new CrewFile(Crew.Id, [Crew.Members[0] with { Available = [new("monday", null, Leaves)] },
            Crew.Members[1] with { Under18 = true }]);
        var opened = Opened with
        {
            Week = Opened.Week with { Rules = new RuleSet { Under18 = new Under18Rules { Until = new LocalTime(23, 30) } } },
        };
        var week = ((IWeekEvent[])[opened, Published]).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        Assert.Equal([("p1", At(23, 45)), ("p2", At(23, 30))],
            SheetOf(week, crew: crew).Shifts.Select(shift => (shift.Person, shift.HomeBy!.Value)));
        Assert.All(SheetOf(Given(Published)).Shifts, shift => Assert.Null(shift.HomeBy));
    }

    /// <summary>Ben: a quarter of an hour before his work, three quarters after it; here with a break of 20 minutes at 22:50.</summary>
    [Fact]
    public void The_order_of_a_person_leaves_no_time_of_the_shift_unsaid()
    {
        var rested = Published with
        {
            Plan = Worked with
            {
                Nights = [Worked.Nights[0] with { Shifts = [.. Worked.Nights[0].Shifts.Select(shift => shift.Person == "p2"
                    ? shift with { Break = new PlannedBreak(At(22, 50), At(23, 10)) } : shift)] }],
            },
        };
        Assert.Equal(
        [
            (OrderEntryKind.Free, At(21, 30), At(21, 45), null), (OrderEntryKind.Piece, At(21, 45), At(22, 15), 101),
            (OrderEntryKind.Piece, At(22, 15), At(22, 45), 102), (OrderEntryKind.Break, At(22, 50), At(23, 10), null),
            (OrderEntryKind.Free, At(23, 10), At(23, 30), null), (OrderEntryKind.Out, At(23, 30), At(23, 30), (int?)null),
        ], SheetOf(Given(rested), "p2").Order!.Entries.Select(entry => (entry.Kind, entry.From, entry.To, entry.Number)));
    }

    [Fact]
    public void Who_recorded_for_others_is_on_the_sheet_and_who_records_for_oneself_is_not_marked()
    {
        SheetReport ReportBy(string by) => SheetOf(Given(Published, Started with { By = by })).Pieces[0].Report!;
        Assert.Equal((new SheetPerson("p1", "Asha Rowan"), true), (ReportBy("p1").By, ReportBy("p1").ByOther));
        Assert.Equal((new SheetPerson("p2", "Ben Marsh"), false), (ReportBy("p2").By, ReportBy("p2").ByOther));
        Assert.Equal((null, false), SheetOf(Given(Published, Started)).Pieces[0].Report is { } report ? (report.By, report.ByOther) : default);
    }

    /// <summary>Ben finishes what he painted, and Asha looks at it later.</summary>
    [Fact]
    public void Who_answers_checks_after_the_finish_is_on_the_sheet_beside_who_finished_it()
    {
        var finish = new WorkFinished("f1", "feature-wall.paint", 1, "monday", At(22, 20), By: "p2");
        var report = SheetOf(Given(Published, Started with { By = "p2" }, finish, finish with
        {
            Report = "f2", At = At(22, 40), By = "p1", Checks = [new("No bare spot.", CheckResult.Good)],
        })).Pieces[0].Report!;
        Assert.Equal(("p2", false), (report.By!.Person, report.ByOther));
        Assert.Equal([new SheetLateSignature(new("p1", "Asha Rowan"), 1)], report.LateSignatures);
    }

    [Fact]
    public void A_night_without_work_has_an_empty_sheet()
    {
        var sheet = NightSheets.Of(Given(Published), Crew, Opened.Week.Nights[1],
            NightMargins.Of(Given(Published), Crew, "tuesday"), Instant.FromUtc(2027, 3, 8, 22, 0));
        Assert.Equal((2, 0, 0), (sheet.Number, sheet.Pieces.Count, sheet.Shifts.Count));
    }

    /// <summary>
    /// The painting needs two tins, a kit without lines and a roller. The first carton has rollers, and the second has tins.
    /// </summary>
    [Fact]
    public void A_piece_has_its_lines_by_carton_and_the_tools_of_its_technique_cards()
    {
        var week = ((IWeekEvent[])[Opened with
        {
            Week = Opened.Week with
            {
                Kits = [Opened.Week.Kits[0] with { Lines = [new KitLine("tin", 3), new KitLine("roller", 1)] },
                    new Kit("sheets", "Dust sheets", new LocalDateTime(2027, 3, 8, 12, 0))],
                Tasks = [.. Opened.Week.Tasks.Select(task => task.Id == "feature-wall.paint" ? task with
                {
                    Needs = [.. task.Needs, new KitRequirement("sheets"), new KitRequirement("paint") { Item = "roller" }],
                } : task)],
            },
        }, Published]).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        var direction = FirstRain with
        {
            Kits =
            [
                FirstRain.Kits[0] with { Cartons = [new Carton("A10") { Items = ["roller"] }, new Carton("A2") { Items = ["tin"] },
                    new Carton("A3") { Items = ["tin", "roller"] }, new Carton("A4") { Holds = ["The list"] }] },
                new DirectedKit("sheets", "Dust sheets", []) { Cartons = [new Carton("S1"), new Carton("S2")] },
            ],
            Cards = [new TechniqueCard("tie", "Tie a prop") { Tasks = ["cycle.tie"], Tools = ["crimp tool"] },
                new TechniqueCard("roll", "Roll a coat") { Tasks = ["feature-wall.paint"], Tools = ["angled brush", "strainer"] }],
        };
        var pieces = SheetOf(week, direction: direction).Pieces;
        Assert.Equal([("roller", "A10, A3"), ("tin", "A2, A3"), (null, "S1, S2")],
            pieces[0].Kits.Select(line => (line.Item, string.Join(", ", line.Cartons))));
        Assert.Equal(("roll", "Roll a coat", "angled brush, strainer"), Assert.Single(pieces[0].Cards) is var card
            ? (card.Card, card.Name, string.Join(", ", card.Tools)) : default);
        Assert.Equal((0, 0), (pieces[2].Kits.Count, pieces[2].Cards.Count)); // the clean-down
        var without = SheetOf(week).Pieces[0];
        Assert.Equal(["tin", "roller", null], without.Kits.Select(line => line.Item));
        Assert.All(without.Kits, line => Assert.Empty(line.Cartons));
        Assert.Empty(without.Cards);
    }

    private static string InWords(SheetOrder order) =>
        string.Join(" | ", new[] { order.Behind, order.Now, order.Next }.Select(numbers => string.Join(", ", numbers)));

    private static NightSheet SheetOf(StoreWeek week, string? person = null, CrewFile? crew = null,
        Direction? direction = null) => NightSheets.Of(
        week, crew ?? Crew, week.Week.Nights[0], NightMargins.Of(week, crew ?? Crew, "monday"),
        Instant.FromUtc(2027, 3, 8, 22, 0), person, direction);
}
