using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>From now on, with what has happened as it did.</summary>
public sealed class MidWeekTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("strip", 120, WithEstimate(60, 240)).Task("paint", 120, "strip");

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "02:00")
        .Work("mon", "strip", "22:00", "00:00", "ana").Work("mon", "paint", "00:00", "02:00", "ana");

    [Fact]
    public void What_is_done_is_done()
    {
        var risk = Now("2027-03-08T23:30", Published.Report("mon", "strip", WorkState.Done, "22:00", "23:15")).Risk();
        Assert.Equal(0, risk.UncertainTasks);
        // Nothing new starts before now: 23:30 and two hours.
        Assert.Equal("09 01:30", risk.Finish.P10.Clock());
        Assert.Equal("09 01:30", risk.Finish.P90.Clock());
    }

    /// <summary>
    /// Two and a half hours have gone: what is left of the triangle 60, 120, 240 lies between 150 and 240, its density falling
    /// straight to 0, so that its mean is 150 + 90 / 3.
    /// </summary>
    [Fact]
    public void Work_under_way_takes_at_least_as_long_as_it_has_taken()
    {
        var risk = Now("2027-03-09T00:30", Published.Report("mon", "strip", WorkState.Running, "22:00")).Risk(runs: 20_000);
        Assert.Equal(180 + 120, risk.Finish.MeanMinutes!.Value, 0.6);
        Assert.True(risk.Of("strip").Cruciality > 0.99);
    }

    /// <summary>
    /// At 23:00 an hour is said to be left. Half of what was most likely at first, so 30, 60 and 120 minutes: 70 on average.
    /// </summary>
    [Fact]
    public void What_is_said_to_remain_is_the_most_likely_of_what_does()
    {
        var risk = Now("2027-03-08T23:00", Published.Report("mon", "strip", WorkState.Running, "22:00", remaining: 60))
            .Risk(runs: 20_000);
        Assert.Equal(60 + 70 + 120, risk.Finish.MeanMinutes!.Value, 0.6);
    }

    [Fact]
    public void What_is_blocked_until_nobody_knows_when_is_not_done()
    {
        var risk = Now("2027-03-08T23:00", Published.Report("mon", "strip", WorkState.Blocked)).Risk();
        Assert.Equal(0, risk.Launch.Held);
    }

    [Fact]
    public void A_night_that_is_over_is_no_risk_any_more()
    {
        var risk = Now("2027-03-09T12:00", Published.Report("mon", "strip", WorkState.Done, "22:00", "23:15"),
            Published.Report("mon", "paint", WorkState.Done, "23:15", "01:00")).Risk();
        Assert.Equal(["tue", "wed"], risk.Nights.Select(night => night.Night));
        Assert.Equal(1, risk.Launch.Share);
    }

    private static TinyPlan Now(string now, params ProgressReport[] progress)
    {
        var replan = Week.Replan(Published, now, progress);
        return replan with { Schedule = replan.Problem.Facts!.PublishedWithActuals };
    }
}
