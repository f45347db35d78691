using SetWeek.Bench;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Risk;

public sealed class ReproducibilityTests
{
    private static readonly Week Week = WeekGenerator.Make(WeekGenerator.Size.Small, 15);
    private static readonly Problem Problem = Problem.Of(Week);
    private static readonly Schedule Planned =
        PlanConverter.ScheduleOf(Problem, Planner.Plan(Week, new SearchLimits { Effort = 0.3, Workers = 1 }));

    /// <summary>1,000 runs are not a whole number of blocks.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    public void The_number_of_workers_has_no_effect(int workers)
    {
        var (first, second) = (Of(new RiskOptions { Runs = 1000, Workers = 3 }),
            Of(new RiskOptions { Runs = 1000, Workers = workers }));
        Assert.Equal(first.Launch, second.Launch);
        Assert.Equal(first.Finish, second.Finish);
        Assert.Equal(first.Nights, second.Nights);
        Assert.Equal(first.Tasks, second.Tasks);
    }

    [Fact]
    public void Another_seed_gives_other_samples_and_nearly_the_same_probability()
    {
        var (first, second) = (Of(new RiskOptions { Seed = 1 }), Of(new RiskOptions { Seed = 2 }));
        Assert.NotEqual(first.Finish, second.Finish);
        var error = Math.Sqrt(2) * Math.Max(first.Launch.StandardError, 0.001);
        Assert.InRange(first.Launch.Share - second.Launch.Share, -4 * error, 4 * error);
    }

    /// <summary>The first 1,000 of 2,500 runs equal 1,000 runs, so a run does not depend on their number.</summary>
    [Fact]
    public void A_run_does_not_depend_on_the_number_of_runs()
    {
        var few = SimulationRuns.Of(new SimulationNetwork(Problem, Planned, new RiskOptions()), new RiskOptions { Runs = 1000 });
        var many = SimulationRuns.Of(new SimulationNetwork(Problem, Planned, new RiskOptions()),
            new RiskOptions { Runs = 2500, Workers = 1 });
        Assert.Equal(few.Finish, many.Finish[..1000]);
    }

    /// <summary>A week with all its rules, keyholders, breaks, bans and clean-downs, but without estimates.</summary>
    [Fact]
    public void A_plan_with_certain_durations_is_kept_in_every_night()
    {
        var certain = Problem.Of(Week with { Tasks = [.. Week.Tasks.Select(task => task with { Estimate = null })] });
        var risk = Planning.Risk.RiskSimulation.Of(certain, Planned, new RiskOptions { Runs = 64 });
        Assert.Equal((64, 64, 0.0), (risk.Launch.Held, risk.Secured.Held, risk.StintsPutOff));
        Assert.All(risk.Nights,
            night => Assert.Equal((1.0, 0.0, 0.0), (night.InWindow.Share, night.OverMinutes, night.OvertimeMinutes)));
        Assert.All(risk.Dues, due => Assert.Equal(1, due.Met.Share));
        Assert.True(risk.Finish.MeanMinutes <= Planned.Work.Max(work => work.To));
    }

    /// <summary>The same runs as far as they go; where the machine is too slow, the report says how many there are.</summary>
    [Fact]
    public void A_slow_machine_makes_fewer_runs_and_says_so()
    {
        var options = new RiskOptions { Runs = 5000 };
        RiskReport Within(TimeSpan step) => Planning.Risk.RiskSimulation.Within(Problem, Planned, options,
            new SearchLimits { Time = TimeSpan.FromSeconds(8), Clock = new StepClock(step) });
        var (fast, all) = (Within(TimeSpan.FromMilliseconds(1)), Of(options));
        Assert.Equal((all.Runs, all.Launch, all.Hold), (fast.Runs, fast.Launch, fast.Hold));

        // 256 runs take 1 second, so that the 21,000 of a whole report would take 82, and a tenth of them are made.
        var slow = Within(TimeSpan.FromSeconds(1));
        Assert.InRange(slow.Runs, 480, 490);
        Assert.Equal((slow.Runs, 976), (slow.Launch.Runs, slow.Hold.Holds.Runs));
        var slowest = Within(TimeSpan.FromMinutes(1));
        Assert.Equal((256, 256), (slowest.Runs, slowest.Hold.Holds.Runs));
    }

    /// <summary>A clock that moves by a step each time it is read.</summary>
    private sealed class StepClock(TimeSpan step) : TimeProvider
    {
        private long now;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => now += step.Ticks;
    }

    private static RiskReport Of(RiskOptions options) => Planning.Risk.RiskSimulation.Of(Problem, Planned, options);
}
