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
    public void A_finish_that_arrives_before_its_start_is_recorded_and_the_start_completes_it()
    {
        Assert.Equal(new WorkStatus(new("feature-wall.paint", 1), WorkState.Done, null) { To = At(22, 20) }, Only(Finish));
        Assert.Equal(new WorkStatus(new("feature-wall.paint", 1), WorkState.Done, At(21, 50)) { To = At(22, 20) },
            Only(Finish, Start));
    }

    [Fact]
    public void A_second_start_from_another_phone_changes_nothing() =>
        Assert.Equal(At(21, 50), Only(Start, Start with { Report = "r9", At = At(21, 55) }).From);

    [Fact]
    public void The_same_report_twice_is_one() => Assert.Single(Given(Published, Start, Start).ReportedWork.Reports.Single().Value);

    [Fact]
    public void Blocked_work_keeps_when_it_was_begun_what_is_left_and_when_it_can_go_on()
    {
        var so = Only(Start, new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "kit-short", 20, At(23, 0)));
        Assert.Equal((WorkState.Blocked, At(21, 50), 20, At(23, 0)),
            (so.State, so.From!.Value, so.RemainingMinutes!.Value, so.Until!.Value));
    }

    [Fact]
    public void Work_gone_on_with_ends_when_what_was_left_is_done()
    {
        var so = Only(Start, new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "no-access", 20, null), Start
            with { Report = "r4", At = At(22, 30) });
        Assert.Equal((WorkState.Running, At(22, 30), At(22, 50)), (so.State, so.From!.Value, so.To!.Value));
    }

    [Fact]
    public void A_failed_check_reopens_what_was_done_and_only_that()
    {
        var reopened = new WorkReopened("r5", "feature-wall.paint", 1, At(22, 30));
        Assert.Equal(WorkState.Reopened, Only(Start, Finish, reopened).State);
        Assert.Equal(WorkState.Running, Only(Start, reopened).State);
        Assert.Null(WorkStatus.Of(new("feature-wall.paint", 1), [reopened]));
    }

    [Fact]
    public void Any_order_of_arrival_tells_the_same_story()
    {
        IWorkReport[] reports =
        [
            Start,
            new WorkBlocked("r3", "feature-wall.paint", 1, At(22, 0), "not-dry", 20, null),
            Start with { Report = "r4", At = At(22, 5) },
            Finish with { At = At(22, 30) },
            new WorkReopened("r5", "feature-wall.paint", 1, At(22, 40)),
        ];
        var story = Only(reports);
        Gen.Shuffle(reports).Sample(shuffled => Only(shuffled) == story, iter: 200);
    }

    [Fact]
    public void What_is_not_of_the_week_is_refused()
    {
        var week = Given(Published);
        Assert.Equal("unknown-task", week.TakeReport(Start with { Task = "sky.paint" }).AsT1.Code);
        Assert.Equal("unknown-stint", week.TakeReport(Start with { Stint = 3 }).AsT1.Code);
        Assert.Equal("unknown-night", week.TakeReport(Start with { Night = "sunday" }).AsT1.Code);
        Assert.Equal("unknown-zone", week.TakeReport(new CleanDownStarted("r1", "roof", "monday", At(23, 0))).AsT1.Code);
        Assert.Equal("unknown-clean-down", week.TakeReport(new CleanDownStarted("r1", "floor", "monday", At(23, 0))).AsT1.Code);
    }

    [Fact]
    public void Without_a_published_plan_there_is_nothing_to_report_on() =>
        Assert.Equal("nothing-published", Given().TakeReport(Start).AsT1.Code);

    [Fact]
    public void A_report_is_taken_once()
    {
        Assert.Equal([Start], Given(Published).TakeReport(Start).AsT0);
        Assert.Empty(Given(Published, Start).TakeReport(Start).AsT0);
    }

    private static WorkStatus Only(params IWorkReport[] reports) => Assert.Single(Given([Published, .. reports]).ReportedWork.Statuses);
}
