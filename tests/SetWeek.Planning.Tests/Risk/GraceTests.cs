using SetWeek.Model.Durations;
using SetWeek.Model.Tests;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// Grace: the minutes by which work may end later than the rules allow. Stripping takes from 22:00 to between 02:00 and 03:00
/// with mode 02:00. Painting is planned from 02:00, so it is late in every run.
/// </summary>
public sealed class GraceTests
{
    private static TinyWeek Late => TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("paint", 240);

    /// <summary>Painting ends between 06:00 and 07:00, on average 20 minutes after the night closes.</summary>
    [Fact]
    public void Work_starts_if_it_ends_late_within_the_grace()
    {
        var risk = Risk(Planned(Late), grace: 60);
        Assert.Equal((1.0, 0, 0.0), (risk.Launch.Share, risk.In("mon").InWindow.Held, risk.Of("paint").PutOff));
        Assert.Equal(20, risk.In("mon").OverMinutes, 0.5);
    }

    /// <summary>The duration is triangular, so the probability of at most g minutes too late is 1 - (1 - g / 60)^2.</summary>
    [Fact]
    public void The_report_has_the_probability_for_several_values_of_grace()
    {
        var risk = Risk(Planned(Late));
        Assert.Equal(0, risk.Launch.Held);
        Assert.Equal([15, 30, 60], risk.WithGrace.Select(row => row.Minutes));
        Assert.All(risk.WithGrace, row => Assert.Equal(1 - Math.Pow(1 - row.Minutes / 60.0, 2), row.Launch.Share, 0.04));
        Assert.Equal([60], Risk(Planned(Late), grace: 30).WithGrace.Select(row => row.Minutes));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(60, 0)]
    public void Grace_applies_to_bans_too(int grace, double putOff)
    {
        var noisy = TinyWeek.New.Ban("mon", "noisy", "2027-03-09T03:00", "2027-03-09T06:00")
            .Task("strip", 240, WithEstimate(240, 300))
            .Task("paint", 60, task => task with { Traits = ["noisy"] });
        var plan = noisy.Plan.Shift("mon", "ana", "22:00", "03:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "03:00", "ana");
        Assert.Equal(putOff, Risk(plan, grace).Of("paint").PutOff);
    }

    [Fact]
    public void Grace_does_not_apply_to_anybody_under_18()
    {
        var young = Late.Person("ana", ana => ana with { Under18 = true });
        Assert.Equal(1, Risk(Planned(young), grace: 60).Of("paint").PutOff);
    }

    private static TinyPlan Planned(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana");

    private static RiskReport Risk(TinyPlan plan, int grace = 0) => Planning.Risk.RiskSimulation.Of(plan.Problem, plan.Schedule,
        new RiskOptions { Runs = 20_000, Distribution = DurationDistribution.Triangular, GraceMinutes = grace });
}
