using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>The simulation of a re-plan: it starts now, with reported work as it happened.</summary>
public sealed class MidWeekTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("strip", 120, WithEstimate(60, 240)).Task("paint", 120, "strip");

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "02:00")
        .Work("mon", "strip", "22:00", "00:00", "ana").Work("mon", "paint", "00:00", "02:00", "ana");

    [Fact]
    public void Done_work_is_certain()
    {
        var risk = RemainderAt("2027-03-08T23:30", Published.Report("mon", "strip", WorkState.Done, "22:00", "23:15")).Risk();
        Assert.Equal(0, risk.UncertainTasks);
        // Nothing new starts before now: 23:30 and two hours.
        Assert.Equal("09 01:30", risk.Finish.P10.Clock());
        Assert.Equal("09 01:30", risk.Finish.P90.Clock());
    }

    /// <summary>
    /// Two and a half hours have passed. The triangular density of 60, 120, 240, conditioned on at least 150, falls linearly to 0
    /// at 240, so its mean is 150 + 90 / 3.
    /// </summary>
    [Fact]
    public void The_duration_of_running_work_is_at_least_the_elapsed_time()
    {
        var risk = RemainderAt("2027-03-09T00:30", Published.Report("mon", "strip", WorkState.Running, "22:00"))
            .Risk(runs: 20_000);
        Assert.Equal(180 + 120, risk.Finish.MeanMinutes!.Value, 0.6);
        Assert.True(risk.Of("strip").Cruciality > 0.99);
    }

    /// <summary>
    /// At 23:00 a report says that 60 minutes remain, half of the most likely duration. The estimate is halved to 30, 60 and 120
    /// minutes, with mean 70.
    /// </summary>
    [Fact]
    public void The_reported_remaining_minutes_are_the_mode_of_the_remainder()
    {
        var risk = RemainderAt("2027-03-08T23:00", Published.Report("mon", "strip", WorkState.Running, "22:00", remaining: 60))
            .Risk(runs: 20_000);
        Assert.Equal(60 + 70 + 120, risk.Finish.MeanMinutes!.Value, 0.6);
    }

    [Fact]
    public void Work_blocked_without_an_end_is_never_done()
    {
        var risk = RemainderAt("2027-03-08T23:00", Published.Report("mon", "strip", WorkState.Blocked)).Risk();
        Assert.Equal(0, risk.Launch.Held);
    }

    [Fact]
    public void A_night_that_is_over_is_not_in_the_report()
    {
        var risk = RemainderAt("2027-03-09T12:00", Published.Report("mon", "strip", WorkState.Done, "22:00", "23:15"),
            Published.Report("mon", "paint", WorkState.Done, "23:15", "01:00")).Risk();
        Assert.Equal(["tue", "wed"], risk.Nights.Select(night => night.Night));
        Assert.Equal(1, risk.Launch.Share);
    }

    private static TinyPlan RemainderAt(string now, params ProgressReport[] progress)
    {
        var replan = Week.Replan(Published, now, progress);
        return replan with { Schedule = replan.Problem.Facts!.PublishedWithActuals };
    }
}
