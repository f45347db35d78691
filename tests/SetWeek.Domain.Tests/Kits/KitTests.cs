using NodaTime;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Kits;

public sealed class KitTests
{
    private static readonly LocalDateTime TuesdayNoon = new(2027, 3, 9, 12, 0);

    [Fact]
    public void A_late_kit_moves_its_eta()
    {
        var late = Given().DelayKit("paint", TuesdayNoon).AsT0;
        Assert.Equal(new KitDelayed("paint", TuesdayNoon), late);
        Assert.Equal(TuesdayNoon, Given(late).Week.Kits[0].Eta);
    }

    [Fact]
    public void A_kit_delayed_without_a_time_has_no_eta() =>
        Assert.Null(Given(Given().DelayKit("paint", null).AsT0).Week.Kits[0].Eta);

    [Fact]
    public void A_delay_to_an_earlier_time_is_refused() =>
        Assert.Equal("not-later", Given().DelayKit("paint", MondayEvening.PlusDays(-1)).AsT1.Code);

    [Fact]
    public void An_unknown_kit_is_refused()
    {
        Assert.True(Given().DelayKit("glitter", null).AsT1.Unknown);
        Assert.True(Given().ExpectKit("glitter", TuesdayNoon).AsT1.Unknown);
        Assert.True(Given().KitIsIn("r1", "glitter", At(18, 0), []).AsT1.Unknown);
        Assert.True(Given().SettleLine("paint", "brush").AsT1.Unknown);
    }

    [Fact]
    public void An_arrived_kit_cannot_be_delayed()
    {
        var refusal = Given(new KitArrived("r1", "paint", At(18, 0))).DelayKit("paint", null).AsT1;
        Assert.Equal(("kit-arrived", "Paint arrived Mon 8 Mar, 18:00. Report a count of what is missing instead."),
            (refusal.Code, refusal.Sentence));
    }

    [Fact]
    public void An_arrival_sets_the_eta_and_the_counts_of_the_lines()
    {
        var events = Given().KitIsIn("r1", "paint", At(18, 0), [new CountedLine("tin", 3, 1)]).AsT0;
        var kit = Given([.. events]).Week.Kits[0];
        Assert.Equal(new LocalDateTime(2027, 3, 8, 18, 0), kit.Eta);
        Assert.Equal((3, 1), (kit.Lines[0].Received, kit.Lines[0].Damaged));
    }

    [Fact]
    public void A_repeated_report_changes_nothing() =>
        Assert.Empty(Given(new KitArrived("r1", "paint", At(18, 0))).KitIsIn("r1", "paint", At(18, 0), []).AsT0);

    [Fact]
    public void Of_two_deliveries_the_first_is_the_arrival_and_the_last_count_wins()
    {
        IWeekEvent[] first = [new KitArrived("r1", "paint", At(17, 0)),
            new KitCounted("paint", At(17, 0), [new CountedLine("tin", 1, 0)])];
        IWeekEvent[] second = [new KitArrived("r2", "paint", At(19, 0)),
            new KitCounted("paint", At(19, 0), [new CountedLine("tin", 3, 0)])];
        foreach (var week in new[] { Given([.. first, .. second]), Given([.. second, .. first]) })
        {
            Assert.Equal(17, week.Week.Kits[0].Eta!.Value.Hour);
            Assert.Equal(3, week.Week.Kits[0].Lines[0].Received);
        }
    }

    [Fact]
    public void An_item_that_the_kit_does_not_have_is_refused()
    {
        var refusal = Given().KitIsIn("r1", "paint", At(18, 0), [new CountedLine("brush", 1, 0)]).AsT1;
        Assert.Equal(("unknown-item", "Paint has no line \"brush\". Its lines: tin."), (refusal.Code, refusal.Sentence));
    }

    [Fact]
    public void Only_a_counted_line_can_be_settled_and_only_once()
    {
        Assert.Equal("not-counted", Given().SettleLine("paint", "tin").AsT1.Code);
        IWeekEvent[] counted = [new KitArrived("r1", "paint", At(18, 0)),
            new KitCounted("paint", At(18, 0), [new CountedLine("tin", 1, 0)])];
        var settled = Given(counted).SettleLine("paint", "tin").AsT0;
        Assert.True(Given([.. counted, settled]).Week.Kits[0].Lines[0].Settled);
        Assert.Equal("settled-already", Given([.. counted, settled]).SettleLine("paint", "tin").AsT1.Code);
    }
}
