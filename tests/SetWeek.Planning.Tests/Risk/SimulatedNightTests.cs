using SetWeek.Model.Durations;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

public sealed class SimulatedNightTests
{
    /// <summary>The example plan of Bell Yard, with its estimates removed.</summary>
    [Fact]
    public void A_plan_with_certain_durations_ends_as_planned()
    {
        var week = WeekFile.Read(File.ReadAllBytes(Path.Combine(ExampleFiles.Root, "docs/examples/bell-yard.week.json"))).AsT0;
        var certain = week with { Tasks = [.. week.Tasks.Select(task => task with { Estimate = null })] };
        var plan = PlanFile.Read(File.ReadAllBytes(Path.Combine(ExampleFiles.Root, "docs/examples/bell-yard.plan.json")),
            week).AsT0;
        var problem = Problem.Of(certain);
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        var risk = Planning.Risk.RiskSimulation.Of(problem, schedule, new RiskOptions { Runs = 100 });
        Assert.Equal(0, risk.UncertainTasks);
        Assert.Equal(new EstimatedProbability(100, 100), risk.Launch);
        Assert.All(risk.Nights,
            night => Assert.Equal((1, 0, 0), (night.InWindow.Share, night.OverMinutes, night.OvertimeMinutes)));
        Assert.All(risk.Tasks, task => Assert.Equal(0, task.PutOff));
        // Planned durations are rounded up to the grid and simulated ones are not, so the end is up to 30 minutes earlier.
        Assert.InRange(risk.Finish.MeanMinutes!.Value, schedule.Work.Max(work => work.To) - 30,
            schedule.Work.Max(work => work.To));
    }

    /// <summary>
    /// Ana has two tasks: one planned for an hour that takes 30 to 60 minutes, and one of an hour. She continues at once and ends
    /// between 23:30 and 00:00.
    /// </summary>
    [Fact]
    public void Somebody_who_finishes_early_continues_early()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(30, 60)).Task("paint", 60).Plan
            .Shift("mon", "ana", "22:00", "00:00").Work("mon", "strip", "22:00", "23:00", "ana")
            .Work("mon", "paint", "23:00", "00:00", "ana");
        var risk = plan.Risk();
        // The triangular mean of 30, 60, 60 is 50.
        Assert.InRange(risk.Finish.MeanMinutes!.Value, 109, 111);
        Assert.Equal(1, risk.Of("strip").Criticality);
        Assert.True(risk.Of("strip").Cruciality > 0.99);
        Assert.Equal(0, risk.Of("paint").Cruciality);
    }

    /// <summary>Bo does the second task and his shift starts at 23:00, so he cannot start earlier.</summary>
    [Fact]
    public void Nobody_starts_before_their_shift()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(30, 60)).Task("paint", 60, "strip").Plan
            .Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "23:00", "00:00")
            .Work("mon", "strip", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");
        var risk = plan.Risk();
        Assert.Equal(120, risk.Finish.MeanMinutes);
        Assert.Equal(0, risk.Of("strip").Criticality);
        Assert.Equal(1, risk.Of("paint").Criticality);
    }

    /// <summary>Stripping takes 60 to 120 minutes, mean 80. The lights wait for the only ladder although Bo is free.</summary>
    [Fact]
    public void Work_waits_for_its_equipment()
    {
        var ladder = new Func<WeekTask, WeekTask>(task => task
            with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] });
        var plan = TinyWeek.New.Equipment("ladder", 1).Task("strip", 60, WithEstimate(60, 120).Then(ladder))
            .Task("lights", 60, ladder).Plan
            .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "00:00")
            .Work("mon", "strip", "22:00", "23:00", "ana").Work("mon", "lights", "23:00", "00:00", "bo");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 139, 141);
    }

    [Fact]
    public void Work_waits_for_room_in_its_zone()
    {
        var plan = TinyWeek.New.Zone("wall", zone => zone with { MaxPeople = 1 }).Task("strip", 60, WithEstimate(60, 120))
            .Task("lights", 60).Plan
            .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "00:00")
            .Work("mon", "strip", "22:00", "23:00", "ana").Work("mon", "lights", "23:00", "00:00", "bo");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 139, 141);
    }

    /// <summary>The coat takes 60 to 120 minutes and dries for two hours: mean 80 + 120 + 60.</summary>
    [Fact]
    public void Drying_starts_at_the_simulated_end()
    {
        var plan = TinyWeek.New.Task("coat", 60, WithEstimate(60, 120)).Task("second", 60, WithPredecessor("coat", dry: 120)).Plan
            .Shift("mon", "ana", "22:00", "02:00").Work("mon", "coat", "22:00", "23:00", "ana")
            .Work("mon", "second", "01:00", "02:00", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 259, 261);
    }

    /// <summary>Sealing ends between 23:00 and 23:30 and then closes its zone for an hour.</summary>
    [Fact]
    public void A_zone_closes_from_the_simulated_end()
    {
        var plan = TinyWeek.New.Task("seal", 60, WithEstimate(60, 90).Then(task => task with { ClosesZoneMinutes = 60 }))
            .Task("dress", 60).Plan
            .Shift("mon", "ana", "22:00", "01:00").Work("mon", "seal", "22:00", "23:00", "ana")
            .Work("mon", "dress", "00:00", "01:00", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 189.3, 190.7);
    }

    /// <summary>
    /// Noisy work is banned from 23:30 to 00:30. Once stripping is late, 30 minutes of drilling do not fit before the ban.
    /// </summary>
    [Fact]
    public void Work_that_would_overlap_a_ban_waits_for_its_end()
    {
        var plan = TinyWeek.New.Ban("mon", "noisy", "2027-03-08T23:30", "2027-03-09T00:30")
            .Task("strip", 60, WithEstimate(60, 90)).Task("drill", 30, task => task with { Traits = ["noisy"] }).Plan
            .Shift("mon", "ana", "22:00", "23:30").Work("mon", "strip", "22:00", "23:00", "ana")
            .Work("mon", "drill", "23:00", "23:30", "ana");
        Assert.Equal("09 01:00", plan.Risk().Finish.P10.Clock());
    }

    /// <summary>
    /// The break is at 00:00, or as soon as Ana's work ends: 120 to 180 minutes of work, half an hour of break, an hour of work.
    /// </summary>
    [Fact]
    public void A_break_starts_after_work_that_runs_late()
    {
        var plan = TinyWeek.New.Rules(new RuleSet { BreakAfterMinutes = 180, BreakMinutes = 30 })
            .Task("strip", 120, WithEstimate(120, 180)).Task("paint", 60).Plan
            .Shift("mon", "ana", "22:00", "01:30", "00:00", "00:30").Work("mon", "strip", "22:00", "00:00", "ana")
            .Work("mon", "paint", "00:30", "01:30", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 229, 231);
    }

    /// <summary>
    /// Filling has three stints and takes 90 to 180 minutes in all. One sample scales all its stints, so the variance is that
    /// of the whole task and not a third of it.
    /// </summary>
    [Fact]
    public void One_sample_scales_all_stints_of_a_task()
    {
        var plan = TinyWeek.New.Task("fill", 180, WithEstimate(90, 180).Then(task => task with { Stints = 3 })).Plan
            .Shift("mon", "ana", "22:00", "01:00").Stint("mon", "fill", 1, 0, "22:00", "23:00", "ana")
            .Stint("mon", "fill", 2, 0, "23:00", "00:00", "ana").Stint("mon", "fill", 3, 0, "00:00", "01:00", "ana");
        var finish = plan.Risk(runs: 20_000).Finish;
        Assert.Equal(TriangularMean.Of(new(90, 180, 180)), finish.MeanMinutes!.Value, 0.6);
        Assert.Equal(Math.Sqrt(Triangular.Variance(new(90, 180, 180))), finish.DeviationMinutes!.Value, 0.4);
    }

    /// <summary>The estimate of 40, 60, 100 minutes becomes 20, 30, 50 in the mode of 30 minutes.</summary>
    [Fact]
    public void Another_mode_scales_the_estimate()
    {
        var plan = TinyWeek.New
            .Task("fill", 60,
                WithEstimate(40, 100).Then(task => task with { Modes = [.. task.Modes, new(30, [new("hands", 2)])] })).Plan
            .Shift("mon", "ana", "22:00", "22:30").Shift("mon", "bo", "22:00", "22:30")
            .Stint("mon", "fill", 1, 1, "22:00", "22:30", "ana:hands", "bo:hands");
        Assert.Equal(TriangularMean.Of(new(20, 30, 50)), plan.Risk(runs: 20_000).Finish.MeanMinutes!.Value, 0.3);
    }

    [Fact]
    public void A_default_spread_applies_to_tasks_without_an_estimate()
    {
        var plan = TinyWeek.New.Task("fill", 100).Plan.Shift("mon", "ana", "22:00", "23:40")
            .Work("mon", "fill", "22:00", "23:40", "ana");
        var options = new RiskOptions { Distribution = DurationDistribution.Triangular, Runs = 20_000,
            DefaultSpread = new DefaultSpread(80, 160) };
        var risk = Planning.Risk.RiskSimulation.Of(plan.Problem, plan.Schedule, options);
        Assert.Equal(1, risk.UncertainTasks);
        Assert.Equal(TriangularMean.Of(new(80, 100, 160)), risk.Finish.MeanMinutes!.Value, 0.6);
    }
}
