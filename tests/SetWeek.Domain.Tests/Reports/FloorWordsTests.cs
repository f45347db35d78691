using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Reports;

/// <summary>More time, pauses, quantities and stops. The first stint of the paint is planned from 21:45 to 22:15.</summary>
public sealed class FloorWordsTests
{
    private const string Paint = "feature-wall.paint";
    private static readonly WorkStarted Start = new("r1", Paint, 1, "monday", At(21, 50));

    [Fact]
    public void Work_that_needs_more_time_runs_on_and_is_not_blocked()
    {
        var more = new WorkProgressed("r2", Paint, 1, At(22, 10), 25);
        Assert.Equal(ReportedState.Running, StatusAfter(Start, more).ReportedState);
        var progress = ProgressAfter(new LocalDateTime(2027, 3, 8, 22, 12), Start, more);
        Assert.Equal((WorkState.Running, At(21, 50), At(22, 35)), (progress.State, progress.From!.Value, progress.To!.Value));
    }

    /// <summary>Half of the pieces are left at 22:20, so half of the planned 30 minutes are.</summary>
    [Fact]
    public void A_quantity_done_says_how_long_the_rest_takes()
    {
        var progress = ProgressAfter(new LocalDateTime(2027, 3, 8, 22, 21), Start,
            new WorkProgressed("r2", Paint, 1, At(22, 20), Done: 4, Of: 8));
        Assert.Equal(At(22, 35), progress.To);
    }

    /// <summary>10 of the planned 30 minutes were worked before the pause.</summary>
    [Fact]
    public void Paused_work_can_be_planned_at_once_and_goes_on_for_the_rest_of_its_minutes()
    {
        var pause = new WorkPaused("r2", Paint, 1, At(22, 0));
        Assert.Equal(ReportedState.Paused, StatusAfter(Start, pause).ReportedState);
        var now = new LocalDateTime(2027, 3, 8, 22, 30);
        var paused = ProgressAfter(now, Start, pause);
        Assert.Equal((WorkState.Blocked, 20, At(22, 0)), (paused.State, paused.RemainingMinutes!.Value, paused.Until!.Value));
        var resumed = ProgressAfter(now, Start, pause, new WorkResumed("r3", Paint, 1, "monday", At(22, 20), ["p1"]));
        Assert.Equal((WorkState.Running, At(22, 20), At(22, 40)), (resumed.State, resumed.From!.Value, resumed.To!.Value));
        Assert.Equal(["p1"], resumed.People);
    }

    [Fact]
    public void Progress_without_a_start_means_that_the_work_runs_since_its_planned_start()
    {
        var progress = ProgressAfter(new LocalDateTime(2027, 3, 8, 22, 12), new WorkProgressed("r2", Paint, 1, At(22, 10), 25));
        Assert.Equal((WorkState.Running, At(21, 45), At(22, 35)), (progress.State, progress.From!.Value, progress.To!.Value));
    }

    [Fact]
    public void A_person_who_is_not_in_the_crew_is_refused() =>
        Assert.Equal("unknown-person", Given(Published).TakeReport(Start with { People = ["p1", "p9"] }).AsT1.Code);

    [Fact]
    public void A_plan_that_starts_work_where_it_is_stopped_breaks_a_rule_until_a_lead_lifts_the_stop()
    {
        var stop = new WorkStopped("s1", "monday", "wall", At(21, 30));
        Assert.Equal(["feature-wall.paint", "feature-wall.paint"],
            BansBrokenAfter(stop).Select(breach => breach.About.Task));
        var lifted = Given(Published, stop).Lift("s1", "wren").AsT0;
        Assert.Equal(new StopLifted("s1", "wren"), lifted);
        Assert.Empty(BansBrokenAfter(stop, lifted));
        Assert.Equal("lifted-already", Given(Published, stop, lifted).Lift("s1", "wren").AsT1.Code);
        Assert.True(Given(Published).Lift("s1", "wren").AsT1.Unknown);
        // Another zone, or another night, stops nothing here.
        Assert.Empty(BansBrokenAfter(stop with { Zone = "floor" }));
        Assert.Empty(BansBrokenAfter(stop with { Night = "tuesday", At = At(21, 30) }));
        Assert.Equal(2, BansBrokenAfter(stop with { Zone = null }).Count);
    }

    [Fact]
    public void A_start_against_a_stop_is_recorded_and_answered_with_the_stop()
    {
        var week = Given(Published, new WorkStopped("s1", "monday", "wall", At(21, 40)));
        Assert.Equal([Start], week.TakeReport(Start).AsT0);
        var against = week.StopAgainst(Start)!;
        Assert.Equal(("s1", "Work in Feature wall was stopped for the night of Mon 8 Mar: not safe. The start is recorded. Stop the work, and go "
            + "on when a lead has lifted the stop."), (against.Stop, against.Sentence));
        Assert.Null(week.StopAgainst(Start with { At = At(21, 35) })); // begun before the stop
    }

    private static List<Breach> BansBrokenAfter(params IWeekEvent[] events)
    {
        var problem = Problem.Of(PlanningProblem.WeekOf(Given(events), Crew));
        return [.. Checker.Check(problem, PlanConverter.ScheduleOf(problem, Worked)).Where(breach => breach.Rule == RuleId.Ban)];
    }

    private static WorkStatus StatusAfter(params IWeekEvent[] reports) =>
        Assert.Single(Given([Published, .. reports]).ReportedWork.Statuses);

    private static ProgressReport ProgressAfter(LocalDateTime now, params IWeekEvent[] reports) =>
        Assert.Single(PlanningProblem.Of(Given([Published, .. reports]), Crew, now).Replan!.Progress);
}
