using NodaTime;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Reports;

public sealed class ReportTimeTests
{
    private static readonly Duration Ten = Duration.FromMinutes(10);
    private static readonly LocalDateTime Ten10 = new(2027, 3, 8, 22, 10);

    [Fact]
    public void A_time_up_to_the_tolerance_ahead_is_kept_and_a_later_one_is_that_of_receipt()
    {
        Assert.Equal(new ReportTime(At(21, 50), null), TimeOf(21, 50, received: At(22, 0)));
        Assert.Equal(new ReportTime(At(22, 10), new ReportClock(At(22, 10), At(22, 0))), TimeOf(22, 10, received: At(22, 0)));
        Assert.Equal(new ReportTime(At(22, 0), new ReportClock(At(22, 11), At(22, 0))), TimeOf(22, 11, received: At(22, 0)));
    }

    [Fact]
    public void Planning_never_takes_a_report_to_be_later_than_it_was_received()
    {
        var ahead = Started("r1", TimeOf(22, 8, received: At(22, 0)));
        Assert.Equal(At(22, 8), ahead.At);
        Assert.Equal(At(22, 0), Assert.Single(Given(Published, ahead).ReportedWork.Statuses).From);
    }

    [Fact]
    public void A_report_moves_now_at_most_to_the_next_minute()
    {
        Assert.Equal(Ten10, NowAfter(Started("r1", At(22, 9))));
        Assert.Equal(Ten10.PlusMinutes(1), NowAfter(Started("r1", At(22, 10))));
        // Stored before devices were distrusted: a phone with a wrong clock.
        Assert.Equal(Ten10.PlusMinutes(1), NowAfter(Started("r1", At(23, 59))));
    }

    [Fact]
    public void A_report_that_does_not_decide_the_state_does_not_count_for_now() =>
        Assert.Equal(Ten10, NowAfter(Started("r1", At(21, 50)), Started("r2", At(22, 10))));

    /// <summary>The progress that the planner gets is accepted by the planner's own check, whatever the clocks said.</summary>
    [Fact]
    public void Begun_work_began_before_now_and_finished_work_ended_by_now()
    {
        var input = PlanningProblem.Of(Given(Published, Started("r1", At(23, 59)),
            new WorkFinished("r2", "feature-wall.paint", 2, "monday", At(23, 59))), Crew, Ten10);
        Assert.True(Model.Files.ReplanFile.Check(input.Week, input.Replan!).IsT0);
        Assert.Equal([At(22, 10), At(22, 10)], input.Replan!.Progress.Select(report => report.From!.Value));
        Assert.Equal(At(22, 11), input.Replan.Progress[1].To);
    }

    [Fact]
    public void A_count_dated_ahead_does_not_bar_the_right_one()
    {
        var wrong = Given().KitIsIn("k1", "paint", TimeOf(22, 8, received: At(22, 0)), [new CountedLine("tin", 1, 0)]).AsT0;
        var right = Given([.. wrong]).KitIsIn("k2", "paint", TimeOf(22, 2, received: At(22, 3)), [new CountedLine("tin", 3, 0)]).AsT0;
        Assert.Equal(3, Given([.. wrong, .. right]).Week.Kits[0].Lines[0].Received);
        Assert.Equal(3, Given([.. right, .. wrong]).Week.Kits[0].Lines[0].Received);
    }

    [Fact]
    public void The_same_id_with_other_content_is_refused_and_a_repetition_is_not()
    {
        var stored = Started("r1", TimeOf(22, 11, received: At(22, 0)));
        var week = Given(Published, stored);
        Assert.Empty(week.TakeReport(Started("r1", TimeOf(22, 11, received: At(22, 5)))).AsT0);
        Assert.Equal("report-id-used", week.TakeReport(Started("r1", At(22, 0))).AsT1.Code);
        Assert.Equal("report-id-used", week.TakeReport(stored with { People = ["p1"] }).AsT1.Code);
        Assert.Equal("report-id-used", week.TakeReport(stored with { Stint = 2 }).AsT1.Code);
        Assert.Equal("report-id-used", week.TakeReport(
            new WorkFinished("r1", "feature-wall.paint", 1, "monday", At(22, 11))).AsT1.Code);
        Assert.Equal("report-id-used", week.KitIsIn("r1", "paint", new ReportTime(At(22, 11), null), []).AsT1.Code);
    }

    [Fact]
    public void A_repeated_arrival_with_another_count_is_refused()
    {
        var counted = Given().KitIsIn("k1", "paint", new ReportTime(At(18, 0), null), [new CountedLine("tin", 1, 0)]).AsT0;
        var week = Given([.. counted]);
        Assert.Empty(week.KitIsIn("k1", "paint", new ReportTime(At(18, 0), null), [new CountedLine("tin", 1, 0)]).AsT0);
        Assert.Equal("report-id-used",
            week.KitIsIn("k1", "paint", new ReportTime(At(18, 0), null), [new CountedLine("tin", 2, 0)]).AsT1.Code);
    }

    private static ReportTime TimeOf(int hour, int minute, OffsetDateTime received) =>
        ReportTime.Of(At(hour, minute), received.ToInstant(), Ten);

    private static WorkStarted Started(string id, OffsetDateTime at) => new(id, "feature-wall.paint", 1, "monday", at);

    private static WorkStarted Started(string id, ReportTime time) => Started(id, time.At) with { Clock = time.Clock };

    private static LocalDateTime NowAfter(params IWeekEvent[] reports) =>
        PlanningProblem.NotBefore(Given([Published, .. reports]), Ten10);
}
