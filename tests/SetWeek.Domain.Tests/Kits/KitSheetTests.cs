using SetWeek.Domain.Kits;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Kits;

public sealed class KitSheetTests
{
    [Fact]
    public void A_kit_that_has_not_come_shows_the_pieces_of_the_plan_that_wait_for_it()
    {
        var kit = Assert.Single(KitSheet.AllOf(Given(Published)));
        Assert.Equal((LineState.NotCounted, 2, 3), (kit.Lines[0].State, kit.Lines[0].Needed, kit.Lines[0].Expected));
        Assert.Equal([(101, "Paint the wall, part 1 of 2"), (102, "Paint the wall, part 2 of 2")],
            kit.Waiting.Select(piece => (piece.Number!.Value, piece.Name)));
        Assert.Equal(At(21, 45), kit.FirstNeeded);
    }

    [Fact]
    public void Work_that_is_done_waits_for_no_kit()
    {
        var week = Given(Published, new WorkFinished("r1", "feature-wall.paint", 1, "monday", At(22, 12)));
        Assert.Equal([102], KitSheet.AllOf(week)[0].Waiting.Select(piece => piece.Number!.Value));
    }

    [Fact]
    public void Without_a_plan_it_shows_the_task()
    {
        var piece = Assert.Single(KitSheet.AllOf(Given())[0].Waiting);
        Assert.Equal((null, "feature-wall.paint", null), (piece.Number, piece.Task, piece.From));
    }

    [Theory]
    [InlineData(3, 0, LineState.Enough, 0)]
    [InlineData(3, 1, LineState.Enough, 0)]
    [InlineData(3, 2, LineState.Short, 2)]
    [InlineData(1, 0, LineState.Short, 2)]
    public void A_line_is_short_where_its_good_pieces_do_not_suffice(int received, int damaged, LineState state, int waiting)
    {
        var week = Counted(Given(Published), new CountAnswer("tin", received, damaged));
        var kit = KitSheet.AllOf(week)[0];
        Assert.Equal((state, waiting, received - damaged), (kit.Lines[0].State, kit.Waiting.Count, kit.Lines[0].Good));
        Assert.Equal(At(18, 0), kit.Counted);
    }

    [Fact]
    public void A_settled_line_holds_nothing_up()
    {
        var week = Counted(Given(Published), new CountAnswer("tin", 1));
        week = StoreWeek.Evolve(week, week.SettleLine("paint", "tin").AsT0)!;
        Assert.Equal((LineState.Settled, 0), (KitSheet.AllOf(week)[0].Lines[0].State, KitSheet.AllOf(week)[0].Waiting.Count));
    }

    [Fact]
    public void As_expected_is_what_the_list_says_and_damaged_ones_came_too()
    {
        Assert.Equal(3, KitSheet.AllOf(Counted(Given(), new CountAnswer("tin", null)))[0].Lines[0].Good);
        Assert.Equal(1, KitSheet.AllOf(Counted(Given(), new CountAnswer("tin", null, 2)))[0].Lines[0].Good);
        Assert.Equal("more-damaged", Given().KitIsCounted("r1", "paint", Time, [new CountAnswer("tin", null, 4)]).AsT1.Code);
        Assert.Equal("unknown-item", Given().KitIsCounted("r1", "paint", Time, [new CountAnswer("brush", null)]).AsT1.Code);
        Assert.True(Given().KitIsCounted("r1", "glitter", Time, [new CountAnswer("brush", null)]).AsT1.Unknown);
    }

    /// <summary>Names are for readers in the store, who give the crew. Whoever is erased has none.</summary>
    [Fact]
    public void A_count_says_who_counted_where_names_may_be_read()
    {
        var week = Counted(Given(), new CountAnswer("tin", 3), by: "p2");
        Assert.Equal(["Ben Marsh"], KitSheet.AllOf(week, Crew)[0].CountedBy);
        Assert.Null(KitSheet.AllOf(week)[0].CountedBy);
        Assert.Null(KitSheet.AllOf(week, Crew with { Members = [.. Crew.Members.Where(member => member.Id != "p2")] })[0].CountedBy);
        Assert.Null(KitSheet.AllOf(Counted(Given(), new CountAnswer("tin", 3)), Crew)[0].CountedBy); // an older event
    }

    private static ReportTime Time => new(At(18, 0), null);

    private static StoreWeek Counted(StoreWeek week, CountAnswer answer, string? by = null) =>
        week.KitIsCounted("r1", "paint", Time, [answer], by: by).AsT0.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);
}
