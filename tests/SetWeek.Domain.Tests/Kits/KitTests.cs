using NodaTime;
using OneOf;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
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

    /// <summary>The first night opens on 8 March 2027; half a year before is 8 September 2026.</summary>
    [Fact]
    public void A_day_in_a_past_year_is_refused_although_nobody_knew_the_day_before()
    {
        var unknown = Given(new KitDelayed("paint", null));
        var wrong = new Refusal("too-early", "March 2026 is more than half a year before the first night of the week. Check the year.");
        Assert.Equal(wrong, unknown.DelayKit("paint", TuesdayNoon.PlusYears(-1)).AsT1);
        Assert.Equal(wrong, unknown.ExpectKit("paint", TuesdayNoon.PlusYears(-1)).AsT1);
        var halfYearBefore = Given().Week.Nights[0].Opens.PlusMonths(-6);
        Assert.Equal("too-early", unknown.ExpectKit("paint", halfYearBefore.PlusMinutes(-1)).AsT1.Code);
        Assert.Equal(new KitExpected("paint", halfYearBefore), unknown.ExpectKit("paint", halfYearBefore).AsT0);
        Assert.Equal(new KitDelayed("paint", halfYearBefore), unknown.DelayKit("paint", halfYearBefore).AsT0);
    }

    [Fact]
    public void An_unknown_kit_is_refused()
    {
        Assert.True(Given().DelayKit("glitter", null).AsT1.Unknown);
        Assert.True(Given().ExpectKit("glitter", TuesdayNoon).AsT1.Unknown);
        Assert.True(Given().KitIsIn("r1", "glitter", Time(18, 0), []).AsT1.Unknown);
        Assert.True(Given().SettleLine("paint", "brush").AsT1.Unknown);
    }

    [Fact]
    public void An_arrived_kit_cannot_be_delayed()
    {
        var refusal = Given(new KitArrived("r1", "paint", At(18, 0))).DelayKit("paint", null).AsT1;
        Assert.Equal(("kit-arrived", "“Paint” arrived Mon 8 Mar, 18:00. Report a count of what is missing instead."),
            (refusal.Code, refusal.Sentence));
    }

    [Fact]
    public void An_arrival_sets_the_eta_and_the_counts_of_the_lines()
    {
        var events = Given().KitIsIn("r1", "paint", Time(18, 0), [new CountedLine("tin", 3, 1)]).AsT0;
        var kit = Given([.. events]).Week.Kits[0];
        Assert.Equal(new LocalDateTime(2027, 3, 8, 18, 0), kit.Eta);
        Assert.Equal((3, 1), (kit.Lines[0].Received, kit.Lines[0].Damaged));
    }

    [Fact]
    public void A_repeated_report_changes_nothing() =>
        Assert.Empty(Given(new KitArrived("r1", "paint", At(18, 0))).KitIsIn("r1", "paint", Time(18, 0), []).AsT0);

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
        var refusal = Given().KitIsIn("r1", "paint", Time(18, 0), [new CountedLine("brush", 1, 0)]).AsT1;
        Assert.Equal(("unknown-item", "“Paint” has no line \"brush\". Its lines: tin."), (refusal.Code, refusal.Sentence));
    }

    [Fact]
    public void An_arrival_without_a_count_keeps_the_tasks_that_need_the_kit_from_starting()
    {
        var week = Given(Arrived(Given().KitIsIn("r1", "paint", Time(18, 0), [])));
        var missing = week.MissingOf("paint")!;
        Assert.Equal(["tin"], missing.Uncounted);
        Assert.Empty(missing.Short);
        Assert.Equal(["feature-wall.paint"], missing.Barred);
        Assert.Equal("“Paint” arrived, but 1 task waits for it. Not counted yet: tin. Count them, let a lead confirm the kit as "
            + "complete, or say when they will be counted.", missing.Sentence);
        Assert.Equal(0, PlanningProblem.WeekOf(week, Crew).Kits[0].Lines[0].Received);
        Assert.Null(week.Week.Kits[0].Lines[0].Received);
    }

    [Fact]
    public void A_kit_that_has_not_arrived_is_planned_as_complete()
    {
        Assert.Null(Given().MissingOf("paint"));
        Assert.Null(PlanningProblem.WeekOf(Given(), Crew).Kits[0].Lines[0].Received);
    }

    [Fact]
    public void A_lead_confirms_the_lines_that_are_not_counted_as_complete()
    {
        var events = Given().KitIsIn("r1", "paint", Time(18, 0), [], complete: true).AsT0;
        Assert.Equal(new KitArrived("r1", "paint", At(18, 0)), events[0]);
        var confirmed = Assert.IsType<KitCounted>(Assert.Single(events.Skip(1)));
        Assert.Equal((true, new CountedLine("tin", 3, 0)), (confirmed.Confirmed, Assert.Single(confirmed.Lines)));
        Assert.Null(Given([.. events]).MissingOf("paint"));
        Assert.Equal(3, PlanningProblem.WeekOf(Given([.. events]), Crew).Kits[0].Lines[0].Received);
    }

    [Fact]
    public void A_confirmation_changes_no_line_that_is_counted()
    {
        IWeekEvent[] counted = Arrived(Given().KitIsIn("r1", "paint", Time(18, 0), [new CountedLine("tin", 1, 0)]));
        var again = Given(counted).KitIsIn("r2", "paint", Time(19, 0), [], complete: true).AsT0;
        Assert.Equal([new KitArrived("r2", "paint", At(19, 0))], again);
        var missing = Given([.. counted, .. again]).MissingOf("paint")!;
        Assert.Empty(missing.Uncounted);
        Assert.Equal(["tin"], missing.Short);
        Assert.Equal("“Paint” arrived, but 1 task waits for it. Too few good pieces: tin. Wait for the rest, or accept what is "
            + "there.", missing.Sentence);
    }

    [Fact]
    public void A_time_for_the_count_of_an_arrived_kit_frees_its_tasks_from_then_on()
    {
        IWeekEvent[] arrived = Arrived(Given().KitIsIn("r1", "paint", Time(18, 0), []));
        var promised = Given(arrived).ExpectKit("paint", TuesdayNoon).AsT0;
        var kit = PlanningProblem.WeekOf(Given([.. arrived, promised]), Crew).Kits[0];
        Assert.Equal((TuesdayNoon, null), (kit.Eta, kit.Lines[0].Received));
        // The count itself ends the wait.
        IWeekEvent[] counted = Arrived(
            Given([.. arrived, promised]).KitIsIn("r2", "paint", Time(20, 0), [new CountedLine("tin", 3, 0)]));
        var week = Given([.. arrived, promised, .. counted]);
        Assert.Equal(18, PlanningProblem.WeekOf(week, Crew).Kits[0].Eta!.Value.Hour);
        Assert.Equal("kit-arrived", week.ExpectKit("paint", TuesdayNoon).AsT1.Code);
    }

    [Fact]
    public void A_need_of_the_whole_kit_waits_until_every_line_is_counted()
    {
        var week = Given(Arrived(Given().KitIsIn("r1", "paint", Time(18, 0), [])));
        var whole = week with
        {
            Week = week.Week with
            {
                Tasks = [.. week.Week.Tasks.Select(task => task.Id == "feature-wall.refit"
                    ? task with { Needs = [new KitRequirement("paint")] } : task with { Needs = [] })],
            },
        };
        Assert.Equal(["feature-wall.refit"], whole.MissingOf("paint")!.Barred);
        Assert.Equal(["tin"], whole.MissingOf("paint")!.Uncounted);
        Assert.Null(PlanningProblem.WeekOf(whole, Crew).Kits[0].Eta);
    }

    private static ReportTime Time(int hour, int minute) => new(At(hour, minute), null);

    private static IWeekEvent[] Arrived(OneOf<IReadOnlyList<IWeekEvent>, Refusal> decision) => [.. decision.AsT0];

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
