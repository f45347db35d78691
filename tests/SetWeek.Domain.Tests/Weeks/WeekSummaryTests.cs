using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Weeks;

public sealed class WeekSummaryTests
{
    private static readonly IWeekEvent Started = new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 50));

    [Fact]
    public void The_stage_follows_the_plan_and_the_reports()
    {
        Assert.Equal(WeekStage.Unplanned, WeekSummary.Of(Given()).Stage);
        Assert.Equal((WeekStage.Published, Published.PlanId), WeekSummary.Of(Given(Published)) is var week
            ? (week.Stage, week.PublishedPlan) : default);
        Assert.Equal(WeekStage.Begun, WeekSummary.Of(Given(Published, Started)).Stage);
        IWeekEvent[] finished =
        [
            .. from night in Worked.Nights
               from work in night.Work
               select work.Task is { } task
                   ? (IWeekEvent)new WorkFinished($"{task}.{work.Stint}", task, work.Stint ?? 1, night.Night, At(23, 0))
                   : new CleanDownFinished($"clean.{night.Night}", work.CleanDown!, night.Night, At(23, 30)),
        ];
        Assert.Equal(WeekStage.Begun, WeekSummary.Of(Given([Published, .. finished[1..]])).Stage);
        Assert.Equal(WeekStage.Done, WeekSummary.Of(Given([Published, .. finished])).Stage);
    }

    [Fact]
    public void A_kit_waits_until_what_the_tasks_need_of_it_is_counted()
    {
        var expected = Assert.Single(WeekSummary.Of(Given()).Waiting);
        Assert.Equal(("paint", null, null), (expected.Kit, expected.Arrived, expected.Missing));
        var arrived = new KitArrived("a1", "paint", At(12, 0));
        Assert.Equal(["tin"], Assert.Single(WeekSummary.Of(Given(arrived)).Waiting).Missing!.Uncounted);
        Assert.Empty(WeekSummary.Of(Given(arrived, new KitCounted("paint", At(12, 0), [new CountedLine("tin", 3, 0)]))).Waiting);
    }

    [Fact]
    public void Blocked_work_is_listed_until_it_goes_on()
    {
        var block = new WorkBlocked("r2", "feature-wall.paint", 1, At(22, 0), "no-access", 20, null);
        var blocked = Assert.Single(WeekSummary.Of(Given(Published, Started, block)).Blocks);
        Assert.Equal(("feature-wall.paint", 1, "no-access", 20), (blocked.Task, blocked.Stint, blocked.Reason, blocked.RemainingMinutes));
        Assert.Empty(WeekSummary.Of(Given(Published, Started, block,
            new WorkStarted("r3", "feature-wall.paint", 1, "monday", At(22, 30)))).Blocks);
    }
}
