using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Figures;

/// <summary>
/// The ledger of the example: Monday night opens at 21:30, and its planned work ends at 23:15. London is at +00:00.
/// </summary>
public sealed class StoreLedgerTests
{
    private static readonly Instant Noon = Instant.FromUtc(2027, 3, 8, 12, 0), Tuesday = Instant.FromUtc(2027, 3, 9, 8, 0);

    private static readonly KitArrived Arrived = new("r0", "paint", At(11, 0));

    private static readonly KitCounted Counted = new("paint", At(11, 10), [new CountedLine("tin", 3, 0)]);

    [Fact]
    public void A_stop_stands_first_until_a_lead_lifts_it()
    {
        var stop = new WorkStopped("r1", "monday", "wall", At(22, 10));
        var ledger = Ledger(Tuesday, Published, stop);
        Assert.Equal(("Feature wall", new LocalDateTime(2027, 3, 8, 22, 10)),
            (ledger.Unsafe.Single().Figures.Stops.Single().Zone, ledger.Unsafe.Single().Figures.Stops.Single().Since));
        Assert.Empty(ledger.Rest);
        Assert.Null(Ledger(Tuesday, Published, stop with { Zone = null }).Unsafe.Single().Figures.Stops.Single().Zone);
        Assert.Empty(Ledger(Tuesday, Published, stop, new StopLifted("r1", "wren")).Unsafe);
    }

    [Fact]
    public void A_plan_that_no_longer_holds_is_at_risk_and_says_not_of_whom()
    {
        var broken = new PlanBroken("plan-1", RuleId.Availability, null, null, null, "monday",
            "{person:p2} is planned in the night and not available.", null);
        var week = Ledger(Noon, Published, broken).AtRisk.Single();
        Assert.Equal(["The published plan no longer holds. Somebody is planned in the night and not available."],
            week.Outlook.Because.Where(because => because.StartsWith("The published", StringComparison.Ordinal)));
        Assert.Null(WeekFigures.Of(Given(Published, broken, new PlanHoldsAgain("plan-1"))).Broken);
    }

    [Fact]
    public void A_kit_that_has_not_come_by_its_time_is_a_risk()
    {
        var expected = new KitExpected("paint", new LocalDateTime(2027, 3, 8, 11, 30));
        Assert.Equal(["“Paint” was expected Mon 8 Mar, 11:30 and has not arrived."],
            Ledger(Noon, Published, expected).AtRisk.Single().Outlook.Because);
        Assert.Empty(Ledger(Noon - Duration.FromHours(1), Published, expected).AtRisk);
        Assert.Empty(Ledger(Noon, Published, expected, Arrived, Counted).AtRisk);
    }

    /// <summary>The plan has 1 h 45 min of work, from 21:30 to 23:15, and none on Tuesday. The longer one has 3 h 15 min.</summary>
    [Fact]
    public void A_store_is_silent_after_two_hours_of_its_nights_without_a_word()
    {
        Assert.Null(SilenceAt(Tuesday, Published));
        Assert.Null(SilenceAt(Instant.FromUtc(2027, 3, 8, 23, 0), Long));
        Assert.Equal((null, MondayOpens), (SilenceAt(Instant.FromUtc(2027, 3, 8, 23, 30), Long)!.LastHeard,
            SilenceAt(Instant.FromUtc(2027, 3, 8, 23, 30), Long)!.Night.Opens));
    }

    [Fact]
    public void Any_word_ends_the_silence_also_a_question_and_a_stop()
    {
        var late = Instant.FromUtc(2027, 3, 8, 23, 40);
        IWeekEvent[] words = [new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(22, 0)),
            new WorkStopped("r2", "monday", null, At(22, 0)),
            new QuestionAsked("q1", null, null, null, Addressee.Lead, At(22, 0))];
        Assert.All(words, word => Assert.Null(SilenceAt(late, Long, word)));
        Assert.Equal(new LocalDateTime(2027, 3, 8, 22, 0), SilenceAt(late + Duration.FromMinutes(20), Long, words[0])!.LastHeard);
    }

    [Fact]
    public void Nothing_is_expected_without_a_plan_or_after_the_end()
    {
        Assert.Null(SilenceAt(Tuesday));
        Assert.Null(SilenceAt(Instant.FromUtc(2027, 3, 20, 8, 0), Long, Finished("r1", "feature-wall.paint", 1),
            Finished("r2", "feature-wall.paint", 2), Finished("r3", "feature-wall.refit", 1)));
    }

    [Fact]
    public void Alternates_are_open_until_it_is_decided_or_work_on_the_display_has_begun()
    {
        var alternate = new OpenAlternate("cycle", "Cycle prop", "Cycle panel");
        var figures = WeekFigures.Of(WithCycle());
        Assert.Equal([alternate], figures.Alternates);
        Assert.Empty(WeekFigures.Of(WithCycle(new WorkStarted("r1", "cycle.tie", 1, "monday", At(22, 0)))).Alternates);
        Assert.Empty(WeekFigures.Of(WithCycle(new DisplayChoiceSet("cycle", DisplayChoice.UseAlternate))).Alternates);
    }

    [Fact]
    public void Two_thousand_stores_are_in_order_and_each_in_every_list_that_it_belongs_to()
    {
        var quiet = WeekFigures.Of(Given(Published, Arrived, Counted));
        var stop = WeekFigures.Of(Given(Published, Arrived, Counted, new WorkStopped("r1", "monday", null, At(22, 0))));
        var weeks = Enumerable.Range(0, 2000).Select(n => (1L, (n % 100 == 0 ? stop : quiet) with { Week = $"w{n:0000}" }));
        var ledger = StoreLedger.Of(weeks, Noon);
        Assert.Equal((2000, 20, 1980), (ledger.Count, ledger.Unsafe.Count, ledger.Rest.Count));
        Assert.Equal(ledger.Rest.Select(week => week.Figures.Week).Order(StringComparer.Ordinal),
            ledger.Rest.Select(week => week.Figures.Week));
    }

    /// <summary>The same plan with its clean-down at 00:45, after the hours of a usual night.</summary>
    private static PlanPublished Long { get; } = Published with
    {
        Plan = Worked with
        {
            Nights = [.. Worked.Nights.Select(night => night with
            {
                Work = [.. night.Work.Select(work => work.CleanDown is null ? work
                    : work with { From = At(23, 0).PlusHours(1), To = At(23, 45).PlusHours(1) })],
            })],
        },
    };

    private static StoreLedger Ledger(Instant now, params IWeekEvent[] events) =>
        StoreLedger.Of([(1, WeekFigures.Of(Given(events)))], now);

    private static Silence? SilenceAt(Instant now, params IWeekEvent[] events) =>
        Silence.Of(WeekFigures.Of(Given(events)), now);

    private static StoreWeek WithCycle(params IWeekEvent[] events)
    {
        var scoped = Scoping.Of(FirstRain, Harbour with { Features = ["cycle-stand"] });
        var opened = Opened with
        {
            Week = Opened.Week with { Displays = [.. FirstRain.Displays.Select(display =>
                new Display(display.Id, display.Name, display.Commitment)
                    { Value = display.Value, Alternate = display.Alternate })], Tasks = FirstRain.Tasks },
            Scoping = scoped.Decisions,
        };
        return events.Prepend(opened).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
    }

    private static WorkFinished Finished(string report, string task, int stint) =>
        new(report, task, stint, "monday", At(22, 30));
}
