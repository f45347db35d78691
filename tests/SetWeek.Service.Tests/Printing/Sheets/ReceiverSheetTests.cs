using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;
using static SetWeek.Service.Tests.Printing.Sheets.SmallNight;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>The receiver's sheet.</summary>
public sealed class ReceiverSheetTests
{
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
        Assert.Equal(("P2", "P4, P5"), (lines["Canopy cloth"].Single(), lines["Figure"].Single()));
        var without = facts with { Direction = null };
        Assert.DoesNotContain(Print(without, "receiver")[0].Blocks.OfType<TableBlock>(), table => table.Columns[0].Head == "Carton");
    }

    /// <summary>The fixtures are counted as sent on the Friday before the week.</summary>
    [Fact]
    public void A_kit_that_is_counted_as_sent_has_no_boxes_any_more()
    {
        var sheet = Print(LargeNight("night-3"), "receiver")[0];
        var said = sheet.Blocks.OfType<TextBlock>().Select(block => $"{block.Strong} {block.Text}").ToList();
        Assert.Contains("Fixtures and steps: in since Friday 5 March, 14:00; all as sent.", said);
        var items = sheet.Blocks.OfType<TableBlock>().SelectMany(table => table.Rows).Select(row => row.Cells[0]).ToList();
        Assert.DoesNotContain("Hang rail", items);
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
        var outside = TextOf(Print(NightOf(week, SlippingPlan, "monday", saysCounters: false, null, counted), "receiver")[0]);
        Assert.Contains("Kit good: in since Sunday 7 March, 10:00", outside);
        Assert.DoesNotContain("counted by", outside);
    }

    /// <summary>The id of the first night whose receiver has lines of a kit.</summary>
    private static string DemoNightWith(string kit) => Demo.Nights.First(night =>
        TextOf(Print(DemoNight(night.Id), "receiver")[0]).Contains(Demo.Kits.Single(known => known.Id == kit).Name)).Id;
}
