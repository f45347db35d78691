using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;
using static SetWeek.Service.Tests.Printing.Sheets.SmallNight;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>The lead's sheet.</summary>
public sealed class LeadSheetTests
{
    public static TheoryData<string> Nights => new(Demo.Nights.Select(night => night.Id));

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

    private static IReadOnlyList<string> Slips(NightFacts facts) =>
        Print(facts, "lead")[0].Blocks.OfType<HalvesBlock>().Single().Left.OfType<ListBlock>().Single().Items;
}
