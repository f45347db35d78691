using System.Globalization;
using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work.Gates;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Printing.Sheets;
using SetWeek.Service.Tests.Pages.Charts;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing;

/// <summary>What stands on each sheet, without paper.</summary>
public sealed class SheetTests
{
    public static TheoryData<string> Nights => new(Demo.Nights.Select(night => night.Id));

    private static readonly string[] Usual = [.. UsualGates.Known.After.Select(gate => gate.Text)];

    [Theory]
    [MemberData(nameof(Nights))]
    public void The_lead_has_each_piece_in_order_and_each_shift(string night)
    {
        var (facts, planned) = (DemoNight(night), DemoPlan.Nights.Single(planned => planned.Night == night));
        var tables = Assert.Single(Print(facts, "lead")).Blocks.OfType<TableBlock>().ToList();
        Assert.Equal(planned.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant())
            .Select(work => (Clock(work.From, work.To), work.People.Count)), tables[0].Rows.Select(row =>
                (row.Cells[1], row.Cells[4].Split(", ", StringSplitOptions.RemoveEmptyEntries).Length)));
        Assert.Equal(planned.Shifts.OrderBy(shift => shift.From.ToInstant()).Select(shift => Clock(shift.From, shift.To)),
            tables[1].Rows.Select(row => row.Cells[1]));
        var numbers = tables[0].Rows.Select(row => row.Cells[0]).ToHashSet();
        Assert.Equal(tables[0].Rows.Count, numbers.Count);
        // What a piece frees is on the sheet too, and left to be written in are the times alone.
        Assert.All(tables[0].Rows.SelectMany(row => row.Cells[6].Split(' ', StringSplitOptions.RemoveEmptyEntries)),
            freed => Assert.Contains(freed, numbers));
        Assert.All(tables[0].Rows, row => Assert.Equal(("", ""), (row.Cells[7], row.Cells[8])));
    }

    [Theory]
    [MemberData(nameof(Nights))]
    public void Everybody_has_all_cautions_steps_and_checks_of_their_own_work(string night)
    {
        var planned = DemoPlan.Nights.Single(planned => planned.Night == night);
        var sheets = Print(DemoNight(night), "crew");
        Assert.Equal(planned.Shifts.Count, sheets.Count);
        foreach (var (shift, sheet) in planned.Shifts.OrderBy(shift => shift.From.ToInstant()).Zip(sheets))
        {
            Assert.StartsWith(Demo.Crew.Single(member => member.Id == shift.Person).Name, sheet.Title, StringComparison.Ordinal);
            var pieces = sheet.Blocks.OfType<PieceBlock>().ToList();
            var own = planned.Work.Where(work => work.People.Any(person => person.Person == shift.Person)).ToList();
            Assert.Equal(own.Count + (shift.Break is null ? 0 : 1), pieces.Count);
            var tasks = own.Select(work => Demo.Tasks.SingleOrDefault(task => task.Id == work.Task)).OfType<WeekTask>().ToList();
            Assert.Equal(tasks.SelectMany(task => task.Cautions).Order(), pieces.SelectMany(piece => piece.Cautions).Order());
            Assert.Equal(tasks.SelectMany(task => task.Steps).Order(), pieces.SelectMany(piece => piece.Steps).Order());
            // The usual checks of work of its kind come besides those of the task.
            Assert.Equal(tasks.SelectMany(task => task.Checks).Order(),
                pieces.SelectMany(piece => piece.Checks).Where(check => !Usual.Contains(check)).Order());
        }
    }

    /// <summary>Pip is under 18 and goes by 22:00: the sheets say when, and not why. Nobody's pay is on any.</summary>
    [Fact]
    public void No_sheet_has_pay_ages_reasons_or_codes()
    {
        var absent = new PersonAbsent("idris", "night-4");
        foreach (var night in Demo.Nights)
            foreach (var sheet in SheetKind.All.SelectMany(kind => kind.Print(DemoNight(night.Id, absent), null)))
            {
                // What the direction says of the work is no word about a person.
                var text = Demo.Tasks.SelectMany(task => task.Cautions.Concat(task.Steps).Concat(task.Checks))
                    .OrderByDescending(said => said.Length).Aggregate(TextOf(sheet), (all, said) => all.Replace(said, ""));
                Assert.DoesNotMatch(@"(?i)£|\b(wages?|pay|paid|rates?|aged?|minor|ill|under.?18|pin|passwords?)\b", text);
                foreach (var rate in Demo.Crew.Select(member => member.RatePerHour.ToString(CultureInfo.InvariantCulture)))
                    Assert.DoesNotContain(rate, text, StringComparison.Ordinal);
                Assert.Contains("Local law and local codes", text, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("Europe/London", text, StringComparison.Ordinal);
            }
        Assert.Contains("Pip Arden, home by 22:00", TextOf(Print(DemoNight("night-4", absent), "lead")[0]));
        Assert.Contains("Not here tonight: Idris Polk.", TextOf(Print(DemoNight("night-4", absent), "lead")[0]));
    }

    [Fact]
    public void What_is_done_is_written_in_and_needs_no_steps_any_more()
    {
        var facts = DemoNight("night-2");
        var piece = facts.Sheet.Pieces.First(piece => piece.Cautions.Count > 0 && piece.People.Count > 0);
        var (from, to) = (piece.From.PlusMinutes(5), piece.To.PlusMinutes(-5));
        facts = DemoNight("night-2", new WorkStarted("r1", piece.Task!, piece.Stint!.Value, "night-2", from),
            new WorkFinished("r2", piece.Task!, piece.Stint!.Value, "night-2", to));
        var row = Print(facts, "lead")[0].Blocks.OfType<TableBlock>().First().Rows
            .Single(row => row.Cells[0] == piece.Number.ToString(CultureInfo.InvariantCulture));
        Assert.Equal((Clock(from), Clock(to), ""), (row.Cells[7], row.Cells[8], row.Cells[5]));
        var block = Print(facts, "crew", piece.People[0])[0].Blocks.OfType<PieceBlock>()
            .Single(block => block.Title.StartsWith($"{piece.Number} ", StringComparison.Ordinal));
        Assert.Empty(block.Steps);
        Assert.Empty(block.Blanks);
        Assert.Contains($"ended {Clock(to)}", block.Hints);
    }

    /// <summary>
    /// In the night of 27 March 2027 the clocks go forward an hour at 01:00 UTC (Directive 2000/84/EC, Summer Time Order 2002).
    /// Asha paints from 00:30 at +00:00 to 02:30 at +01:00; it dries for 20 hours, until Sunday 22:30.
    /// </summary>
    [Fact]
    public void A_night_with_a_clock_change_says_so_and_its_times_have_their_offset()
    {
        var facts = NightOf(Painted, ClockChange, "sat");
        var lead = TextOf(Print(facts, "lead")[0]);
        Assert.Contains("The clocks go forward 60 minutes tonight, at 01:00 (+00:00).", lead);
        Assert.Contains("00:30 (+00:00)–02:30 (+01:00)", lead);
        Assert.DoesNotContain("clocks", TextOf(Print(DemoNight("night-1"), "lead")[0]), StringComparison.OrdinalIgnoreCase);

        var wall = Assert.Single(Print(facts, "painter")[0].Blocks.OfType<TableBlock>().First().Rows);
        Assert.Equal(("Back wall", "Sunday 28 March, 22:30"), (wall.Cells[1], wall.Cells[4]));
        Assert.Contains("Then Set the forms, Sunday 28 March, 23:00", wall.Cells[2]);
        Assert.Equal(2, Print(facts, "painter")[0].Blocks.OfType<TableBlock>().ElementAt(1).Rows.Count); // begun and ended
    }

    /// <summary>
    /// A (60 minutes, 150 at the longest) ends at 22:45 and B lasts 30 minutes. Their shifts end at 00:30, so B starts at 00:00
    /// at the latest, and A may end 75 minutes late. At its longest it ends 90 minutes late. B at its longest takes 35 minutes.
    /// </summary>
    [Fact]
    public void The_likeliest_slip_is_what_ends_too_late_at_its_longest()
    {
        var facts = NightOf(Slipping(150), SlippingPlan, "monday");
        Assert.Equal(["101 Build, not ended by 00:00: 102 waits for it. Put off first: 102 Dress."], Slips(facts));
        Assert.Equal(["No piece is likely to last beyond its latest end."],
            Slips(NightOf(Slipping(135), SlippingPlan, "monday")));
    }

    [Fact]
    public void A_kit_is_counted_good_short_uncounted_or_away()
    {
        var kits = Slipping(150) with
        {
            Kits = [Kit("good", null), Kit("short", null), Kit("uncounted", null), Kit("away", new(2027, 3, 9, 16, 0)),
                Kit("late", new(2027, 3, 6, 12, 0)), Kit("unknown", null)],
        };
        var at = new LocalDateTime(2027, 3, 7, 10, 0).WithOffset(Offset.Zero);
        var facts = NightOf(kits, SlippingPlan, "monday",
            new KitArrived("r1", "good", at), new KitCounted("good", at, [new("tin", 4, 0)], Report: "r1"),
            new KitArrived("r2", "short", at), new KitCounted("short", at, [new("tin", 3, 1)], Report: "r2"),
            new KitArrived("r3", "uncounted", at));
        var half = Print(facts, "lead")[0].Blocks.OfType<HalvesBlock>().Single();
        Assert.Equal(["Counted, all good: Kit good.", "In, not counted: Kit uncounted.",
            "Kit short: tin 1 of 4 missing and 1 damaged.",
            "Not in: Kit away, expected Tue 9 Mar 16:00; Kit late, due Sat 6 Mar 12:00, not reported in; Kit unknown, nobody "
                + "knows when it comes."], half.Right.OfType<ListBlock>().Single().Items);
        var receiver = Print(facts, "receiver")[0].Blocks.OfType<TableBlock>().First();
        Assert.Equal(3, receiver.Columns.Count(column => column.Use == ColumnUse.Box));
    }

    [Theory]
    [MemberData(nameof(Nights))]
    public void The_keyholder_counts_everybody_and_the_reviewer_has_every_check(string night)
    {
        var facts = DemoNight(night);
        var keyholder = Print(facts, "keyholder")[0];
        Assert.Equal(facts.Sheet.Shifts.Select(shift => shift.Name), keyholder.Blocks.OfType<TableBlock>().Single().Rows
            .Select(row => row.Cells[0]).Where(name => name != "Visitor:"));
        Assert.Contains("No codes on paper.", TextOf(keyholder));
        var reviewer = TextOf(Print(facts, "reviewer")[0]);
        Assert.All(facts.Sheet.Pieces.SelectMany(piece => piece.Checks), check => Assert.Contains(check, reviewer));
        Assert.All(facts.Sheet.Pieces, piece => Assert.Contains(piece.ZoneName, reviewer));
    }

    /// <summary>Whoever dresses or poses has a sheet; painting and dressing can be narrowed to one person.</summary>
    [Fact]
    public void A_sheet_of_a_person_has_the_work_of_that_person_alone()
    {
        var facts = DemoNight("night-2");
        var dressers = DemoPlan.Nights[1].Work.Where(work => Demo.Tasks.Any(task => task.Id == work.Task
            && task.Modes.Any(mode => mode.Roles.Any(role => role.Skill is "dressing" or "posing"))))
            .SelectMany(work => work.People).Select(person => person.Person).Distinct().ToList();
        Assert.NotEmpty(dressers);
        Assert.Equal(dressers.Count, Print(facts, "dresser").Count);
        var jonah = new SheetPerson("jonah", "Jonah Brask");
        Assert.All(Assert.Single(Print(facts, "painter", jonah)).Blocks.OfType<PieceBlock>(), piece =>
            Assert.DoesNotContain("Jonah", piece.Where));
        Assert.Contains("No paint work", TextOf(Assert.Single(Print(facts, "painter", new SheetPerson("pip", "Pip Arden")))));
        Assert.Contains("You have no shift", TextOf(Assert.Single(Print(facts, "crew", new SheetPerson("teo", "Teo Marlowe")))));
    }

    [Fact]
    public void The_receiver_unpacks_by_the_cartons_that_the_direction_lists()
    {
        var facts = DemoNight(DemoNightWith("props"));
        var cartons = Print(facts, "receiver")[0].Blocks.OfType<TableBlock>().Single(table => table.Columns[0].Head == "Carton");
        Assert.Equal(["P1", "P2", "P3", "P4", "P5", "P6", "P7", "P8", "P9"], cartons.Rows.Select(row => row.Cells[0]));
        Assert.Equal("Canopy cloth with its flame certificate; Six safety lines", cartons.Rows[1].Cells[1]);
        Assert.Equal(3, cartons.Columns.Count(column => column.Use == ColumnUse.Box));
        var lines = Print(facts, "receiver")[0].Blocks.OfType<TableBlock>().SelectMany(table => table.Rows)
            .Where(row => row.Cells.Count == 9).ToLookup(row => row.Cells[0], row => row.Cells[4]);
        Assert.Equal(("P2", "P4, P5"), (lines["canopy-cloth"].Single(), lines["figure"].Single()));
        var without = facts with { Direction = null };
        Assert.DoesNotContain(Print(without, "receiver")[0].Blocks.OfType<TableBlock>(), table => table.Columns[0].Head == "Carton");
    }

    [Fact]
    public void Painter_and_dresser_read_how_their_displays_are_to_look()
    {
        var wall = Demo.Nights.Select(night => TextOf(Print(DemoNight(night.Id), "painter")[0]))
            .Where(text => text.Contains("first coat")).ToList();
        Assert.NotEmpty(wall);
        Assert.All(wall, text => Assert.Contains("A slate-blue wall with thin plumb lines of rain", text));
        var figures = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "dresser")).Select(TextOf)
            .Where(text => text.Contains("Pose the four figures")).ToList();
        Assert.NotEmpty(figures);
        Assert.All(figures, text => Assert.Contains("four figures, each on its own step, with its line to the wall", text));
        Assert.All(figures, text => Assert.DoesNotContain("A slate-blue wall", text));
    }

    [Fact]
    public void Colours_figures_and_cartons_stand_where_they_are_needed()
    {
        var painter = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "painter")[0].Blocks.OfType<TableBlock>().Take(1))
            .SelectMany(table => table.Rows)
            .Where(row => row.Cells[2].StartsWith("Cut in and roll the first coat", StringComparison.Ordinal));
        Assert.All(painter, row => Assert.Equal("Slate blue, matt", row.Cells[5]));
        Assert.NotEmpty(painter);
        var posed = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "dresser"))
            .Where(sheet => TextOf(sheet).Contains("Pose the four figures"))
            .Select(sheet => sheet.Blocks.OfType<TableBlock>().Last()).ToList();
        Assert.NotEmpty(posed);
        var four = DemoDirection.Displays.Single(display => display.Id == "stepped-shelf").Figures;
        Assert.Equal(4, four.Count);
        Assert.All(posed, table => Assert.All(four, figure => Assert.Contains(table.Rows, row =>
            row.Cells[1] == figure.Name && row.Cells[3] == figure.Pose)));
        var hung = Demo.Nights.SelectMany(night => Print(DemoNight(night.Id), "crew")).Select(TextOf);
        Assert.Contains(hung, text => text.Contains("waist-line × 2 from P4, P5 of ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_count_has_the_name_of_whoever_counted_for_readers_in_the_store_alone()
    {
        var at = new LocalDateTime(2027, 3, 7, 10, 0).WithOffset(Offset.Zero);
        var week = Slipping(150) with { Kits = [Kit("good", null)] };
        IWeekEvent[] counted =
            [new KitArrived("r1", "good", at), new KitCounted("good", at, [new("tin", 4, 0)], Report: "r1", By: "p1")];
        // Without an expected time a counted kit is on the sheet only if work of the night needs it.
        week = week with { Tasks = [.. week.Tasks.Select(task => task with { Needs = [new("good")] })] };
        Assert.Contains("Kit good: in since Sunday 7 March, 10:00, counted by Asha Rowan",
            TextOf(Print(NightOf(week, SlippingPlan, "monday", counted), "receiver")[0]));
        var outside = TextOf(Print(NightOf(week, SlippingPlan, "monday", saysCounters: false, counted), "receiver")[0]);
        Assert.Contains("Kit good: in since Sunday 7 March, 10:00", outside);
        Assert.DoesNotContain("counted by", outside);
    }

    /// <summary>The id of the first night whose receiver has lines of a kit.</summary>
    private static string DemoNightWith(string kit) => Demo.Nights.First(night =>
        TextOf(Print(DemoNight(night.Id), "receiver")[0]).Contains(Demo.Kits.Single(known => known.Id == kit).Name)).Id;

    private static Week Painted { get; } = ChartWeek.Spring with
    {
        Tasks = [.. ChartWeek.Spring.Tasks.Select(task => task.Id == "paint" ? task with { Traits = ["paint"] } : task)],
    };

    private static Plan ClockChange { get; } =
        new() { Week = Painted.Id, Status = PlanStatus.Feasible, Nights = ChartWeek.Planned };

    private static Week Slipping(int longest) => new()
    {
        Id = "w", Currency = "GBP", Launch = new(2027, 3, 12, 9, 0),
        Store = new Store { Id = "s", TimeZone = "Europe/London", Zones = [new("floor", "Floor")] },
        Nights = [new("monday", new(2027, 3, 8, 21, 30), new(2027, 3, 9, 1, 30))],
        Crew = [new CrewMember { Id = "p1", Name = "Asha Rowan", Skills = new Dictionary<string, int> { ["dressing"] = 1 },
            RatePerHour = 1, Keyholder = true, Available = [new("monday")] }],
        Displays = [new("all", "All", DisplayCommitment.Want) { Value = 1 }], Rules = new RuleSet(),
        Tasks =
        [
            new() { Id = "a", Name = "Build", Display = "all", Zone = "floor", Modes = [new(60, [new("dressing", 1)])],
                Estimate = new(45, longest) },
            new() { Id = "b", Name = "Dress", Display = "all", Zone = "floor", Modes = [new(30, [new("dressing", 1)])],
                After = [new("a")], Estimate = new(25, 35) },
        ],
    };

    private static Plan SlippingPlan { get; } = new()
    {
        Week = "w", Status = PlanStatus.Feasible,
        Nights = [new PlannedNight
        {
            Night = "monday", Keyholder = "p1", Shifts = [new("p1", At(21, 30), At(24, 30))],
            Work = [Piece("a", At(21, 45), At(22, 45)), Piece("b", At(22, 45), At(23, 15))],
        }],
    };

    private static PlannedWork Piece(string task, OffsetDateTime from, OffsetDateTime to) =>
        new() { Task = task, Stint = 1, Mode = 0, From = from, To = to, People = [new("p1", "dressing")] };

    private static Kit Kit(string id, LocalDateTime? eta) => new(id, $"Kit {id}", eta) { Lines = [new("tin", 4)] };

    private static IReadOnlyList<string> Slips(NightFacts facts) =>
        Print(facts, "lead")[0].Blocks.OfType<HalvesBlock>().Single().Left.OfType<ListBlock>().Single().Items;

    private static OffsetDateTime At(int hour, int minute) =>
        new LocalDateTime(2027, 3, 8, 0, 0).PlusMinutes(60 * hour + minute).WithOffset(Offset.Zero);

    private static string Clock(OffsetDateTime time) => time.LocalDateTime.ToString("HH:mm", CultureInfo.InvariantCulture);

    private static string Clock(OffsetDateTime from, OffsetDateTime to) => $"{Clock(from)}–{Clock(to)}";
}
