using SetWeek.Domain.Reports;
using System.Text;
using CsCheck;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Files;
using static SetWeek.Domain.Tests.Example;
using Take = System.Func<SetWeek.Domain.Weeks.StoreWeek,
    OneOf.OneOf<System.Collections.Generic.IReadOnlyList<SetWeek.Domain.Weeks.Events.IWeekEvent>, SetWeek.Domain.Refusal>>;

namespace SetWeek.Domain.Tests.Reports;

/// <summary>
/// The reports of a night end in one state in whatever order they arrive and however often each does. A report that is taken back
/// leaves the state as if it had never been made, whether its retraction arrives before it or after it. A stop stays.
/// </summary>
public sealed class ReportOrderTests
{
    /// <summary>Two stints, a clean-down, a kit in two deliveries, a stop, two corrections.</summary>
    private static readonly (string Id, Take Take)[] Night =
    [
        Work(new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 50))),
        Work(new WorkPaused("r2", "feature-wall.paint", 1, At(22, 0))),
        Work(new WorkResumed("r3", "feature-wall.paint", 1, "monday", At(22, 10), ["p1"])),
        Work(new WorkProgressed("r4", "feature-wall.paint", 1, At(22, 15), 20, 3, 8)),
        Work(new WorkFinished("r5", "feature-wall.paint", 1, "monday", At(22, 40))),
        Work(new WorkReopened("r6", "feature-wall.paint", 1, At(23, 0))),
        Work(new WorkStarted("r7", "feature-wall.paint", 2, "monday", At(22, 45), ["p2"])),
        Work(new WorkBlocked("r8", "feature-wall.paint", 2, At(22, 50), "no-power", 10, At(23, 10))),
        Work(new WorkStarted("r9", "feature-wall.paint", 2, "monday", At(22, 40), Corrects: "r7")),
        Work(new CleanDownStarted("r10", "wall", "monday", At(23, 0))),
        Work(new CleanDownFinished("r11", "wall", "monday", At(23, 20), Corrects: "r99")),
        Kit("k1", 17, new CountedLine("tin", 1, 0)),
        Kit("k2", 19, new CountedLine("tin", 3, 1)),
        Kit("k4", Ahead(19, 10), new CountedLine("tin", 3, 0)),
        Kit("k3", Ahead(19, 20), new CountedLine("tin", 2, 0)),
        Work(new CleanDownFinished("a2", "wall", "tuesday", Ahead(22, 0).At, Clock: Ahead(22, 10).Clock)),
        Work(new CleanDownStarted("a3", "wall", "tuesday", Ahead(22, 0).At, Clock: Ahead(22, 0).Clock)),
        ("s1", week => week.Stop(new WorkStopped("s1", "monday", "wall", At(22, 30)))),
    ];

    [Fact]
    public void All_orders_duplicates_and_delays_of_a_night_s_reports_end_in_one_state()
    {
        var expected = Snapshot(After(Night.Select(report => report.Take)));
        Assert.Contains("r9", Ids(After(Night.Select(report => report.Take)))); // the night was recorded
        Gen.Shuffle((List<(string Id, Take Take)>)[.. Night, .. Night]).Sample(
            shuffled => Snapshot(After(shuffled.Select(report => report.Take))) == expected, iter: 300);
    }

    [Fact]
    public void Taking_reports_back_is_order_free_and_leaves_nothing_of_them() =>
        (from taken in Gen.Bool.Array[Night.Length]
         from order in Gen.Shuffle((List<(string Id, Take Take)>)[.. Night, .. Night.Select(report => Retraction(report.Id))])
         select (taken, order)).Sample(sample =>
        {
            var retracted = Night.Index().Where(report => sample.taken[report.Index]).Select(report => report.Item.Id).ToHashSet();
            var arriving = sample.order.Where(report => !report.Id.StartsWith("not-", StringComparison.Ordinal)
                || retracted.Contains(report.Id[4..]));
            var without = Night.Where(report => report.Id == "s1" || !retracted.Contains(report.Id));
            return Snapshot(After(arriving.Select(report => report.Take))) == Snapshot(After(without.Select(report => report.Take)));
        }, iter: 500);

    /// <summary>Their time is that of their receipt, so the device's own clock tells their order.</summary>
    [Fact]
    public void Reports_of_a_device_whose_clock_is_ahead_keep_the_order_of_its_clock()
    {
        var paused = new WorkPaused("z", "feature-wall.paint", 1, Ahead(22, 5).At, null, Ahead(22, 5).Clock);
        var resumed = new WorkResumed("y", "feature-wall.paint", 1, "monday", Ahead(22, 30).At, Clock: Ahead(22, 30).Clock);
        var started = new WorkStarted("x", "feature-wall.paint", 1, "monday", Ahead(22, 0).At, Clock: Ahead(22, 0).Clock);
        Gen.Shuffle((IWeekEvent[])[started, paused, resumed]).Sample(order =>
            Assert.Single(Given([Published, .. order]).ReportedWork.Statuses).ReportedState == ReportedState.Running, iter: 50);
        var counts = new[]
        {
            Kit("b", Ahead(19, 10), new CountedLine("tin", 3, 0)), Kit("a", Ahead(19, 20), new CountedLine("tin", 2, 0)),
        };
        Gen.Shuffle(counts).Sample(order =>
            After(order.Select(report => report.Take)).Week.Kits[0].Lines[0].Received == 2, iter: 50);
    }

    [Fact]
    public void A_correction_replaces_its_report_and_a_retracted_correction_brings_it_back()
    {
        var start = new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50));
        var corrected = start with { Report = "b", At = At(22, 5), Corrects = "a" };
        Assert.Equal(At(22, 5), StartOf(start, corrected));
        Assert.Equal(At(22, 5), StartOf(corrected, start));
        Assert.Equal(At(21, 50), StartOf(start, corrected, new ReportRetracted("c", "b", At(22, 6))));
        Assert.Equal(At(21, 50), StartOf(new ReportRetracted("c", "b", At(22, 6)), corrected, start));
    }

    /// <summary>Two devices that correct each other: neither is more right than the other, in any order.</summary>
    [Fact]
    public void Corrections_in_a_circle_count_for_nothing()
    {
        var first = new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50), Corrects: "b");
        var second = first with { Report = "b", At = At(22, 5), Corrects = "a" };
        Assert.Empty(Given(Published, first, second).ReportedWork.Statuses);
        Assert.Empty(Given(Published, second, first).ReportedWork.Statuses);
    }

    /// <summary>Only a lead lifts a stop, and another stop that corrects it is not lost.</summary>
    [Fact]
    public void A_stop_cannot_be_taken_back_by_a_report_in_any_order()
    {
        var stop = new WorkStopped("s1", "monday", "wall", At(22, 30));
        var retraction = new ReportRetracted("c", "s1", At(22, 31));
        var correction = new WorkStarted("d", "feature-wall.paint", 1, "monday", At(22, 32), Corrects: "s1");
        var other = new WorkStopped("s2", "monday", "floor", At(22, 33), Corrects: "s1");
        var week = Given(Published, stop);
        Assert.Contains("Ask a lead to lift it", week.Retract(retraction).AsT1.Sentence);
        Assert.Equal("is-stop", week.TakeReport(correction).AsT1.Code);
        Assert.Equal(["s1", "s2"], Given([Published, stop, .. week.Stop(other).AsT0]).StandingStops.Select(one => one.Report));
        Gen.Shuffle((IWeekEvent[])[stop, retraction, correction, other]).Sample(order =>
            Given([Published, .. order]).StandingStops.Select(one => one.Report).SequenceEqual(["s1", "s2"]), iter: 50);
    }

    /// <summary>p1 and p2 paint, and the report says that they are done.</summary>
    [Theory]
    [InlineData("p3", "p3", true)] // entered it
    [InlineData("p2", "p3", true)] // does the work
    [InlineData("p4", "p3", false)]
    [InlineData("p4", null, false)] // nobody is known
    public void Crew_take_back_what_they_entered_or_did_and_a_lead_everything(string by, string? enteredBy, bool isTaken)
    {
        var week = Given(Published, new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50), ["p1", "p2"]),
            new WorkFinished("b", "feature-wall.paint", 1, "monday", At(22, 40)));
        var retraction = new ReportRetracted("c", "b", At(22, 45));
        var decision = week.Retract(retraction, by, isLead: false, enteredBy);
        if (isTaken) Assert.Single(decision.AsT0);
        else Assert.Equal(("not-yours", true), (decision.AsT1.Code, decision.AsT1.IsForbidden));
        Assert.Single(week.Retract(retraction, by, isLead: true, enteredBy).AsT0);
        Assert.Single(week.Retract(retraction with { Retracts = "on-its-way" }, by, isLead: false, null).AsT0);
    }

    /// <summary>A correction takes the other report out, as a retraction does. Anybody may name a report on its way.</summary>
    [Theory]
    [InlineData("p3", "p3", true)] // entered it
    [InlineData("p2", "p3", true)] // does the work
    [InlineData("p4", "p3", false)]
    [InlineData("p4", null, false)] // nobody is known
    public void Crew_correct_what_they_could_take_back(string by, string? enteredBy, bool isTaken)
    {
        var week = Given(Published, new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50), ["p1", "p2"]),
            new WorkStopped("s1", "monday", "wall", At(22, 30)));
        var correction = new WorkStarted("c", "feature-wall.paint", 1, "monday", At(22, 0), Corrects: "a");
        Assert.Equal(isTaken ? null : "not-yours", RefusalOf(correction)?.Code);
        Assert.Null(RefusalOf(correction with { Corrects = "on-its-way" }));
        Assert.Null(RefusalOf(correction with { Corrects = null }));
        // A stop stands beside the one that it corrects, so that it takes nothing out.
        Assert.Null(RefusalOf(new WorkStopped("s2", "monday", "floor", At(22, 33), Corrects: "s1")));

        Refusal? RefusalOf(IFloorReport report) => week.RefusalOfCorrection([report], by, _ => enteredBy);
    }

    [Fact]
    public void A_retraction_cannot_be_taken_back()
    {
        var week = Given(Published, new ReportRetracted("c", "a", At(22, 0)));
        Assert.Equal("is-retraction", week.Retract(new ReportRetracted("d", "c", At(22, 1))).AsT1.Code);
        Assert.Empty(Given(Published, new ReportRetracted("d", "c", At(22, 1)), new ReportRetracted("c", "a", At(22, 0)),
            new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50))).ReportedWork.Statuses);
    }

    /// <summary>Streams stored before counts named their report.</summary>
    [Fact]
    public void A_count_of_an_older_event_is_taken_back_with_the_arrival_before_it()
    {
        IWeekEvent[] older = [new KitArrived("k1", "paint", At(17, 0)),
            new KitCounted("paint", At(17, 0), [new CountedLine("tin", 1, 0)])];
        Assert.Equal(1, Given(older).Week.Kits[0].Lines[0].Received);
        var week = Given([.. older, new ReportRetracted("c", "k1", At(18, 0))]);
        Assert.Equal(Opened.Week.Kits[0], week.Week.Kits[0] with { Lines = Opened.Week.Kits[0].Lines });
        Assert.Null(week.Week.Kits[0].Lines[0].Received);
        Assert.Empty(week.Arrivals);
    }

    [Fact]
    public void A_taken_back_arrival_restores_the_time_that_was_expected_before()
    {
        var later = MondayEvening.PlusDays(1);
        var week = Given(new KitDelayed("paint", later), new KitArrived("k1", "paint", At(17, 0)),
            new ReportRetracted("c", "k1", At(18, 0)));
        Assert.Equal(later, week.Week.Kits[0].Eta);
        Assert.NotNull(week.DelayKit("paint", later.PlusHours(1)).AsT0);
    }

    [Fact]
    public void An_absence_and_a_settled_line_are_taken_back_by_name()
    {
        var absent = Given(new PersonAbsent("p1", "monday"));
        Assert.Equal(new Refusal("not-absent", "Asha Rowan is not marked absent for the night of Mon 8 Mar; there is nothing to take back."),
            Given().RetractAbsence(Crew, "p1", "monday").AsT1);
        Assert.Empty(Given(new PersonAbsent("p1", "monday"), absent.RetractAbsence(Crew, "p1", "monday").AsT0).Absences);

        IWeekEvent[] settled = [new KitArrived("k1", "paint", At(17, 0)),
            new KitCounted("paint", At(17, 0), [new CountedLine("tin", 1, 0)], Report: "k1"), new KitLineSettled("paint", "tin")];
        Assert.Equal("not-settled", Given().UnsettleLine("paint", "tin").AsT1.Code);
        var again = Given([.. settled, Given(settled).UnsettleLine("paint", "tin").AsT0]);
        Assert.False(again.Week.Kits[0].Lines[0].Settled);
        Assert.Equal(["tin"], again.MissingOf("paint")!.Short);
    }

    [Fact]
    public void The_history_shows_what_was_taken_back_and_by_what()
    {
        IWeekEvent[] events =
        [
            Opened, Published, new WorkStarted("a", "feature-wall.paint", 1, "monday", At(21, 50)),
            new PersonAbsent("p1", "monday"), new ReportRetracted("c", "a", At(22, 0)), new AbsenceRetracted("p1", "monday"),
            new PersonAbsent("p1", "monday"),
        ];
        var history = WeekHistory.Of(Given(events[1..]), Crew, events);
        Assert.Equal([null, null, 4, 5, null, null, null], history.Select(entry => entry.TakenBackBy));
        Assert.Equal("Taken back: “Paint the wall” (part 1 of 2) was started Mon 8 Mar, 21:50.", history[4].Sentence);
        Assert.Equal("Asha Rowan is absent from the night of Mon 8 Mar.", history[3].Sentence);
        Assert.Equal("a", history[2].Report);
    }

    [Fact]
    public void The_history_names_what_was_dropped_later_and_a_report_that_came_after_its_retraction()
    {
        IWeekEvent[] events =
        [
            Opened, new ReportRetracted("c", "a", At(22, 0)), new KitArrived("a", "paint", At(18, 0)),
            new KitDropped("paint"), new NightDropped("tuesday"),
        ];
        Assert.Equal(
        [
            "The week was opened.", "Taken back: “Paint” arrived Mon 8 Mar, 18:00.", "“Paint” arrived Mon 8 Mar, 18:00.",
            "“Paint” is not sent.", "The night of Tue 9 Mar was dropped.",
        ], WeekHistory.Of(Given(events[1..]), Crew, events).Select(entry => entry.Sentence));
    }

    private static (string Id, Take Take) Work(IWorkReport report) => (report.Report, week => week.TakeReport(report));

    private static (string Id, Take Take) Kit(string id, int hour, CountedLine line) =>
        Kit(id, new ReportTime(At(hour, 0), null), line);

    private static (string Id, Take Take) Kit(string id, ReportTime time, CountedLine line) =>
        (id, week => week.KitIsIn(id, "paint", time, [line]));

    /// <summary>The time of a report that a device with a clock far ahead sent, received at 18:55.</summary>
    private static ReportTime Ahead(int hour, int minute) => new(At(18, 55), new ReportClock(At(hour, minute), At(18, 55)));

    private static (string Id, Take Take) Retraction(string report) =>
        ($"not-{report}", week => week.Retract(new ReportRetracted($"not-{report}", report, At(23, 30))));

    private static StoreWeek After(IEnumerable<Take> reports) => reports.Aggregate(Given(Published),
        (week, take) => take(week).Match(
            events => events.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!),
            refusal => refusal.Code == "is-stop" ? week : throw new InvalidOperationException(refusal.Sentence)));

    private static NodaTime.OffsetDateTime StartOf(params IWeekEvent[] reports) =>
        Assert.Single(Given([Published, .. reports]).ReportedWork.Statuses).From!.Value;

    private static IEnumerable<string> Ids(StoreWeek week) => week.Facts.Counting.OfType<IFloorReport>().Select(e => e.Report);

    /// <summary>All that the state says, but not which reports were taken back.</summary>
    private static string Snapshot(StoreWeek week)
    {
        var text = new StringBuilder(Encoding.UTF8.GetString(WeekFile.Write(PlanningProblem.WeekOf(week, Crew))));
        foreach (var status in week.ReportedWork.Statuses)
            text.AppendLine().Append(status with { People = null }).Append(string.Join(',', status.People ?? []));
        foreach (var stop in week.StandingStops) text.AppendLine().Append(stop);
        foreach (var (kit, arrived) in week.Arrivals) text.AppendLine().Append(kit).Append(arrived);
        return text.ToString();
    }
}
