using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

public sealed class WorkedInOrderTests
{
    /// <summary>Bell Yard is planned in the file beside it; without estimates nothing is left to chance.</summary>
    [Fact]
    public void A_plan_without_chance_ends_as_planned()
    {
        var week = WeekFile.Read(File.ReadAllBytes(Path.Combine(ExampleFiles.Root, "docs/examples/bell-yard.week.json"))).AsT0;
        var certain = week with { Tasks = [.. week.Tasks.Select(task => task with { Estimate = null })] };
        var plan = PlanFile.Read(File.ReadAllBytes(Path.Combine(ExampleFiles.Root, "docs/examples/bell-yard.plan.json")), week).AsT0;
        var problem = Problem.Of(certain);
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        var risk = Planning.Risk.RiskSimulation.Of(problem, schedule, new RiskOptions { Runs = 100 });
        Assert.Equal(0, risk.UncertainTasks);
        Assert.Equal(new EstimatedProbability(100, 100), risk.Launch);
        Assert.All(risk.Nights,
            night => Assert.Equal((1, 0, 0), (night.InWindow.Share, night.OverMinutes, night.OvertimeMinutes)));
        Assert.All(risk.Tasks, task => Assert.Equal(0, task.PutOff));
        // Planned lengths are on the grid and real ones are not: never later, and at most a slot a piece sooner.
        Assert.InRange(risk.Finish.MeanMinutes!.Value, schedule.Work.Max(work => work.To) - 30,
            schedule.Work.Max(work => work.To));
    }

    /// <summary>
    /// Ana's two pieces: an hour that takes 30 to 60 minutes, then an hour. She goes on at once: 23:30 to 00:00.
    /// </summary>
    [Fact]
    public void Who_finishes_early_goes_on_early()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(30, 60)).Task("paint", 60).Plan
            .Shift("mon", "ana", "22:00", "00:00").Work("mon", "strip", "22:00", "23:00", "ana")
            .Work("mon", "paint", "23:00", "00:00", "ana");
        var risk = plan.Risk();
        // Mean of the triangle 30, 60, 60: 50.
        Assert.InRange(risk.Finish.MeanMinutes!.Value, 109, 111);
        Assert.Equal(1, risk.Of("strip").Criticality);
        Assert.True(risk.Of("strip").Cruciality > 0.99);
        Assert.Equal(0, risk.Of("paint").Cruciality);
    }

    /// <summary>The same with Bo, whose shift begins at 23:00: the hour that Ana saves is not his.</summary>
    [Fact]
    public void Nobody_is_called_in_before_their_shift()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(30, 60)).Task("paint", 60, "strip").Plan
            .Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "23:00", "00:00")
            .Work("mon", "strip", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");
        var risk = plan.Risk();
        Assert.Equal(120, risk.Finish.MeanMinutes);
        Assert.Equal(0, risk.Of("strip").Criticality);
        Assert.Equal(1, risk.Of("paint").Criticality);
    }

    /// <summary>Strip takes 60 to 120, mean 80; one ladder: the lights wait for it though their hands are free.</summary>
    [Fact]
    public void Who_needs_the_ladder_waits_for_it()
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
    public void Who_finds_no_place_in_the_zone_waits_for_one()
    {
        var plan = TinyWeek.New.Zone("wall", zone => zone with { MaxPeople = 1 }).Task("strip", 60, WithEstimate(60, 120))
            .Task("lights", 60).Plan
            .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "00:00")
            .Work("mon", "strip", "22:00", "23:00", "ana").Work("mon", "lights", "23:00", "00:00", "bo");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 139, 141);
    }

    /// <summary>Paint dries for two hours after a coat that takes 60 to 120 minutes: mean 80 + 120 + 60.</summary>
    [Fact]
    public void Paint_dries_from_when_it_is_on()
    {
        var plan = TinyWeek.New.Task("coat", 60, WithEstimate(60, 120)).Task("second", 60, WithPredecessor("coat", dry: 120)).Plan
            .Shift("mon", "ana", "22:00", "02:00").Work("mon", "coat", "22:00", "23:00", "ana")
            .Work("mon", "second", "01:00", "02:00", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 259, 261);
    }

    /// <summary>Sealing ends at 23:00 to 23:30 and closes the floor for an hour after it.</summary>
    [Fact]
    public void A_closed_zone_opens_so_long_after_its_task_has_really_ended()
    {
        var plan = TinyWeek.New.Task("seal", 60, WithEstimate(60, 90).Then(task => task with { ClosesZoneMinutes = 60 }))
            .Task("dress", 60).Plan
            .Shift("mon", "ana", "22:00", "01:00").Work("mon", "seal", "22:00", "23:00", "ana")
            .Work("mon", "dress", "00:00", "01:00", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 189.3, 190.7);
    }

    /// <summary>
    /// Noise is barred from 23:30 to 00:30. Drilling, 30 minutes at 23:00, never fits before it once stripping is late.
    /// </summary>
    [Fact]
    public void What_would_reach_into_a_ban_waits_for_its_end()
    {
        var plan = TinyWeek.New.Ban("mon", "noisy", "2027-03-08T23:30", "2027-03-09T00:30")
            .Task("strip", 60, WithEstimate(60, 90)).Task("drill", 30, task => task with { Traits = ["noisy"] }).Plan
            .Shift("mon", "ana", "22:00", "23:30").Work("mon", "strip", "22:00", "23:00", "ana")
            .Work("mon", "drill", "23:00", "23:30", "ana");
        Assert.Equal("09 01:00", plan.Risk().Finish.P10.Clock());
    }

    /// <summary>
    /// The break is at 00:00 or, where Ana is still at work, after that: 120 to 180 minutes, half an hour, an hour.
    /// </summary>
    [Fact]
    public void A_break_is_kept_and_comes_late_where_work_does()
    {
        var plan = TinyWeek.New.Rules(new RuleSet { BreakAfterMinutes = 180, BreakMinutes = 30 })
            .Task("strip", 120, WithEstimate(120, 180)).Task("paint", 60).Plan
            .Shift("mon", "ana", "22:00", "01:30", "00:00", "00:30").Work("mon", "strip", "22:00", "00:00", "ana")
            .Work("mon", "paint", "00:30", "01:30", "ana");
        Assert.InRange(plan.Risk().Finish.MeanMinutes!.Value, 229, 231);
    }

    /// <summary>
    /// Three stints of a fill of 180 minutes that takes 90 to 180: slow in one, slow in all. Variance is the whole's, not a
    /// third.
    /// </summary>
    [Fact]
    public void A_task_that_is_slow_is_slow_in_all_its_stints()
    {
        var plan = TinyWeek.New.Task("fill", 180, WithEstimate(90, 180).Then(task => task with { Stints = 3 })).Plan
            .Shift("mon", "ana", "22:00", "01:00").Stint("mon", "fill", 1, 0, "22:00", "23:00", "ana")
            .Stint("mon", "fill", 2, 0, "23:00", "00:00", "ana").Stint("mon", "fill", 3, 0, "00:00", "01:00", "ana");
        var finish = plan.Risk(runs: 20_000).Finish;
        Assert.Equal(Triangular.Mean(new(90, 180, 180)), finish.MeanMinutes!.Value, 0.6);
        Assert.Equal(Math.Sqrt(Triangular.Variance(new(90, 180, 180))), finish.DeviationMinutes!.Value, 0.4);
    }

    /// <summary>In the mode of 30 minutes the estimate of 60, 40 to 100, is one of 20 to 50.</summary>
    [Fact]
    public void Another_mode_scales_the_estimate()
    {
        var plan = TinyWeek.New
            .Task("fill", 60,
                WithEstimate(40, 100).Then(task => task with { Modes = [.. task.Modes, new(30, [new("hands", 2)])] })).Plan
            .Shift("mon", "ana", "22:00", "22:30").Shift("mon", "bo", "22:00", "22:30")
            .Stint("mon", "fill", 1, 1, "22:00", "22:30", "ana:hands", "bo:hands");
        Assert.Equal(Triangular.Mean(new(20, 30, 50)), plan.Risk(runs: 20_000).Finish.MeanMinutes!.Value, 0.3);
    }

    [Fact]
    public void Without_an_estimate_a_default_spread_may_be_asked_for()
    {
        var plan = TinyWeek.New.Task("fill", 100).Plan.Shift("mon", "ana", "22:00", "23:40")
            .Work("mon", "fill", "22:00", "23:40", "ana");
        var options = new RiskOptions { Distribution = DurationDistribution.Triangular, Runs = 20_000, DefaultSpread = new DefaultSpread(80, 160) };
        var risk = Planning.Risk.RiskSimulation.Of(plan.Problem, plan.Schedule, options);
        Assert.Equal(1, risk.UncertainTasks);
        Assert.Equal(Triangular.Mean(new(80, 100, 160)), risk.Finish.MeanMinutes!.Value, 0.6);
    }
}
