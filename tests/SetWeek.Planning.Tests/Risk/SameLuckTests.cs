using SetWeek.Bench;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Risk;

public sealed class SameLuckTests
{
    private static readonly Week Week = WeekGenerator.Make(WeekGenerator.Size.Small, 15);
    private static readonly Problem Problem = Problem.Of(Week);
    private static readonly Schedule Planned =
        PlanConverter.ScheduleOf(Problem, Planner.Plan(Week, new SearchLimits { Effort = 0.3, Workers = 1 }));

    /// <summary>1,000 is not a whole number of blocks.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    public void The_number_of_workers_changes_nothing(int workers)
    {
        var (one, other) = (Of(new RiskOptions { Runs = 1000, Workers = 3 }),
            Of(new RiskOptions { Runs = 1000, Workers = workers }));
        Assert.Equal(one.Launch, other.Launch);
        Assert.Equal(one.Finish, other.Finish);
        Assert.Equal(one.Nights, other.Nights);
        Assert.Equal(one.Tasks, other.Tasks);
    }

    [Fact]
    public void Another_seed_is_other_luck_and_near_enough_the_same_chance()
    {
        var (one, other) = (Of(new RiskOptions { Seed = 1 }), Of(new RiskOptions { Seed = 2 }));
        Assert.NotEqual(one.Finish, other.Finish);
        var error = Math.Sqrt(2) * Math.Max(one.Launch.StandardError, 0.001);
        Assert.InRange(one.Launch.Share - other.Launch.Share, -4 * error, 4 * error);
    }

    /// <summary>
    /// The first thousand runs of ten thousand are those of a thousand: a run does not depend on how many there are.
    /// </summary>
    [Fact]
    public void A_run_is_the_same_among_few_and_among_many()
    {
        var few = SimulationRuns.Of(new SimulationNetwork(Problem, Planned, new RiskOptions()), new RiskOptions { Runs = 1000 });
        var many = SimulationRuns.Of(new SimulationNetwork(Problem, Planned, new RiskOptions()), new RiskOptions { Runs = 2500, Workers = 1 });
        Assert.Equal(few.Finish, many.Finish[..1000]);
    }

    /// <summary>A week with all its rules, keyholders, breaks, bans and clean-downs; only the estimates are taken away.</summary>
    [Fact]
    public void A_planned_week_without_chance_holds_in_every_night()
    {
        var certain = Problem.Of(Week with { Tasks = [.. Week.Tasks.Select(task => task with { Estimate = null })] });
        var risk = Planning.Risk.RiskSimulation.Of(certain, Planned, new RiskOptions { Runs = 64 });
        Assert.Equal((64, 64, 0.0), (risk.Launch.Held, risk.Secured.Held, risk.StintsPutOff));
        Assert.All(risk.Nights,
            night => Assert.Equal((1.0, 0.0, 0.0), (night.InWindow.Share, night.OverMinutes, night.OvertimeMinutes)));
        Assert.All(risk.Dues, due => Assert.Equal(1, due.Met.Share));
        Assert.True(risk.Finish.MeanMinutes <= Planned.Work.Max(work => work.To));
    }

    private static RiskReport Of(RiskOptions options) => Planning.Risk.RiskSimulation.Of(Problem, Planned, options);
}
