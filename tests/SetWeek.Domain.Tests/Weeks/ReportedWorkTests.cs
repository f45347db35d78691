using CsCheck;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Weeks;

public sealed class ReportedWorkTests
{
    private static readonly WorkStarted Start = new("r1", "feature-wall.paint", 1, "monday", At(21, 50));
    private static readonly WorkFinished Finish = new("r2", "feature-wall.paint", 1, "monday", At(22, 20));

    [Fact]
    public void A_finish_received_before_its_start_is_kept_and_completed_by_the_start()
    {
        var done = new WorkStatus(new("feature-wall.paint", 1), WorkState.Done, null)
        {
            To = At(22, 20), Since = At(22, 20).ToInstant(),
        };
        Assert.Equal(done, StatusAfter(Finish));
        Assert.Equal(done with { From = At(21, 50) }, StatusAfter(Finish, Start));
    }

    [Fact]
    public void A_second_start_from_another_device_changes_nothing() =>
        Assert.Equal(At(21, 50), StatusAfter(Start, Start with { Report = "r9", At = At(21, 55) }).From);

    [Fact]
    public void A_repeated_report_counts_once() => Assert.Single(
        Given(Published, Start, Start).ReportedWork.Reports.Single().Value);

    [Fact]
    public void Blocked_work_keeps_its_start_its_remaining_minutes_and_its_release()
    {
        var status = StatusAfter(Start, new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "kit-short", 20, At(23, 0)));
        Assert.Equal((WorkState.Blocked, At(21, 50), 20, At(23, 0)),
            (status.State, status.From!.Value, status.RemainingMinutes!.Value, status.Until!.Value));
    }

    [Fact]
    public void Resumed_work_ends_after_its_remaining_minutes()
    {
        var status = StatusAfter(Start, new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "no-access", 20, null), Start
            with { Report = "r4", At = At(22, 30) });
        Assert.Equal((WorkState.Running, At(22, 30), At(22, 50)), (status.State, status.From!.Value, status.To!.Value));
    }

    [Fact]
    public void A_failed_check_reopens_done_work_only()
    {
        var reopened = new WorkReopened("r5", "feature-wall.paint", 1, At(22, 30));
        Assert.Equal(WorkState.Reopened, StatusAfter(Start, Finish, reopened).State);
        Assert.Equal(WorkState.Running, StatusAfter(Start, reopened).State);
        Assert.Null(WorkStatus.Of(new("feature-wall.paint", 1), [reopened]));
    }

    [Fact]
    public void The_order_of_reports_has_no_effect()
    {
        IWorkReport[] reports =
        [
            Start,
            new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "not-dry", 20, null),
            Start with { Report = "r4", At = At(22, 5) },
            Finish with { At = At(22, 30) },
            new WorkReopened("r5", "feature-wall.paint", 1, At(22, 40)),
        ];
        var expected = StatusAfter(reports);
        Gen.Shuffle(reports).Sample(shuffled => StatusAfter(shuffled) == expected, iter: 200);
    }

    [Fact]
    public void A_report_on_something_that_the_week_does_not_have_is_refused()
    {
        var week = Given(Published);
        Assert.Equal("unknown-task", week.TakeReport(Start with { Task = "sky.paint" }).AsT1.Code);
        Assert.Equal("unknown-stint", week.TakeReport(Start with { Stint = 3 }).AsT1.Code);
        Assert.Equal("unknown-night", week.TakeReport(Start with { Night = "sunday" }).AsT1.Code);
        Assert.Equal("unknown-zone", week.TakeReport(new CleanDownStarted("r1", "roof", "monday", At(23, 0))).AsT1.Code);
        Assert.Equal("unknown-clean-down", week.TakeReport(new CleanDownStarted("r1", "floor", "monday", At(23, 0))).AsT1.Code);
    }

    [Fact]
    public void Without_a_published_plan_reports_are_refused() =>
        Assert.Equal("nothing-published", Given().TakeReport(Start).AsT1.Code);

    [Fact]
    public void A_report_is_stored_once()
    {
        Assert.Equal([Start], Given(Published).TakeReport(Start).AsT0);
        Assert.Empty(Given(Published, Start).TakeReport(Start).AsT0);
    }

    private static WorkStatus StatusAfter(params IWorkReport[] reports) =>
        Assert.Single(Given([Published, .. reports]).ReportedWork.Statuses);
}
