using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>The simulation where work no longer fits into its night. Nights last from 22:00 to 06:00.</summary>
public sealed class LateNightTests
{
    private static TinyWeek TwoTasks => TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("paint", 240);

    /// <summary>
    /// The duration lies between 480 and 600 minutes with mode 480, the length of the night, so the mean excess is 40.
    /// </summary>
    [Fact]
    public void Begun_work_is_finished_after_the_night_closes()
    {
        var plan = TinyWeek.New.Task("strip", 480, WithEstimate(480, 600)).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "06:00", "ana");
        var risk = plan.Risk(runs: 20_000);
        Assert.Equal(0, risk.In("mon").InWindow.Held);
        Assert.Equal(40, risk.In("mon").OverMinutes, 0.8);
        Assert.Equal(40, risk.In("mon").OvertimeMinutes, 0.8);
        Assert.Equal((1.0, 0.0), (risk.Launch.Share, risk.Of("strip").PutOff));
    }

    /// <summary>
    /// Stripping never ends by 02:00, so four hours of painting do not fit. Ana paints on Tuesday after her hour of signs.
    /// </summary>
    [Fact]
    public void Work_that_does_not_fit_moves_to_the_next_night_of_its_people()
    {
        var plan = TwoTasks.Task("signs", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "signs", "22:00", "23:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 1, 0), (risk.Of("strip").PutOff, risk.Of("paint").PutOff, risk.Of("signs").PutOff));
        Assert.Equal("10 03:00", risk.Finish.P50.Clock());
        // All of it lies after 23:00, when her shift ends.
        Assert.Equal(240, risk.In("tue").OvertimeMinutes);
        Assert.Equal(1, risk.In("mon").InWindow.Share);
        Assert.Equal(1, risk.Launch.Share);
    }

    /// <summary>The signs follow the painting, so on Tuesday Ana paints before them, from 22:00 to 02:00.</summary>
    [Fact]
    public void Postponed_work_comes_before_its_successors()
    {
        var plan = TwoTasks.Task("steam", 30).Task("signs", 60, "paint").Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00").Shift("tue", "bo", "22:00", "22:30")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "signs", "22:00", "23:00", "ana").Work("tue", "steam", "22:00", "22:30", "bo");
        var risk = plan.Risk();
        Assert.Equal("10 03:00", risk.Finish.P10.Clock());
        Assert.Equal((1, 0, 0), (risk.Of("paint").PutOff, risk.Of("signs").PutOff, risk.Of("steam").PutOff));
    }

    [Fact]
    public void Postponed_work_is_done_by_somebody_else_with_the_skill()
    {
        var plan = TwoTasks.Task("signs", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("wed", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("wed", "signs", "22:00", "23:00", "bo");
        Assert.Equal("11 03:00", plan.Risk().Finish.P50.Clock());
    }

    [Fact]
    public void Work_that_fits_into_no_night_misses_the_launch_and_its_due()
    {
        var plan = TwoTasks.With(week => week with { Tasks = [.. week.Tasks.Select(task => task with { Due = "mon" })] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 0), (risk.Launch.Held, risk.Done.Held));
        Assert.Equal("never", risk.Finish.P10.Clock());
        Assert.Null(risk.Finish.MeanMinutes);
        Assert.Equal([new DueRisk("strip", "mon", new EstimatedProbability(2000, 2000)),
            new DueRisk("paint", "mon", new EstimatedProbability(0, 2000))],
            risk.Dues);
        // Its predecessor is critical too.
        Assert.Equal((1, 1), (risk.Of("strip").Criticality, risk.Of("paint").Criticality));
    }

    /// <summary>
    /// Bo is available until 03:00 on Tuesday. Four hours of painting from 23:00 fit exactly; from 23:05 they do not.
    /// </summary>
    [Theory]
    [InlineData("23:00", "10 03:00")]
    [InlineData("23:05", "never")]
    public void People_work_longer_only_while_they_are_available(string from, string ends)
    {
        var plan = TwoTasks.Person("bo", bo => bo with { Available = [new("tue", To: TinyWeek.Local("2027-03-10T03:00"))] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", from, "23:45")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana");
        Assert.Equal(ends, plan.Risk().Finish.P50.Clock());
    }

    /// <summary>Posing ends after 05:30. Securing takes half an hour and follows in the same night, after 06:00.</summary>
    [Fact]
    public void A_same_night_successor_is_done_in_its_night_even_if_late()
    {
        var plan = TinyWeek.New.Task("pose", 450, WithEstimate(450, 500))
            .Task("secure", 30, WithPredecessor("pose", sameNight: true)).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "pose", "22:00", "05:30", "ana").Work("mon", "secure", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0.0, 1.0, 0.0), (risk.In("mon").InWindow.Share, risk.Secured.Share, risk.Of("secure").PutOff));
    }

    /// <summary>
    /// Tying secures what was hung and what was bolted. Bolting no longer fits on Monday, so both move to Tuesday, and what was hung
    /// on Monday stands loose until then.
    /// </summary>
    [Fact]
    public void Work_that_secures_two_others_leaves_the_one_half_secured_that_was_done_before()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("hang", 30).Task("bolt", 210)
            .Task("tie", 30, task => task with { After = [new("hang") { SameNight = true }, new("bolt") { SameNight = true }] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "23:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "hang", "22:00", "22:30", "bo")
            .Work("mon", "bolt", "02:00", "05:30", "ana").Work("mon", "tie", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 1, 1), (risk.Of("hang").PutOff, risk.Of("bolt").PutOff, risk.Of("tie").PutOff));
        Assert.Equal(0, risk.Secured.Share);
    }

    /// <summary>Posing and securing together no longer fit, so posing does not start and both move to Tuesday.</summary>
    [Fact]
    public void Work_does_not_start_without_time_for_its_same_night_successor()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("pose", 210)
            .Task("secure", 30, WithPredecessor("pose", sameNight: true)).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "pose", "02:00", "05:30", "ana").Work("mon", "secure", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((1, 1, 1), (risk.Of("pose").PutOff, risk.Of("secure").PutOff, risk.Secured.Share));
        Assert.Equal("10 02:00", risk.Finish.P90.Clock());
    }

    /// <summary>
    /// The clean-down is planned for 02:00. Stripping ends between 02:00 and 03:00, and the clean-down follows it.
    /// </summary>
    [Fact]
    public void A_clean_down_follows_the_work_of_its_zone()
    {
        var plan = TinyWeek.New.CleanDown("wall", 30).Task("strip", 240, WithEstimate(240, 300)).Plan
            .Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "02:00", "02:30")
            .Work("mon", "strip", "22:00", "02:00", "ana").CleanDown("mon", "wall", "02:00", "02:30", "bo");
        Assert.Equal(240 + 20 + 30, plan.Risk(runs: 20_000).Finish.MeanMinutes!.Value, 0.5);
    }

    /// <summary>
    /// Painting moves to Tuesday, and with it the clean-down of the wall. On Monday nobody worked at the wall.
    /// </summary>
    [Fact]
    public void A_clean_down_moves_with_the_work()
    {
        var plan = TinyWeek.New.CleanDown("wall", 30)
            .Task("strip", 240, WithEstimate(240, 300).Then(task => task with { Zone = "floor" })).Task("paint", 210).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "05:30", "ana")
            .CleanDown("mon", "wall", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal("10 02:00", risk.Finish.P50.Clock());
        Assert.Equal(1, risk.In("mon").InWindow.Share);
        Assert.True(string.CompareOrdinal(risk.In("mon").P80.Clock(), "09 03:00") <= 0);
    }

    /// <summary>
    /// Sealing takes three hours and closes its zone for half an hour. Once stripping is late it no longer fits before the
    /// clean-down and moves to Tuesday. Monday's clean-down follows the stripping and does not wait for the sealing.
    /// </summary>
    [Fact]
    public void A_clean_down_does_not_wait_for_work_moved_to_another_night()
    {
        var plan = TinyWeek.New.CleanDown("wall", 30).Task("strip", 240, WithEstimate(240, 300))
            .Task("seal", 180, task => task with { ClosesZoneMinutes = 30 }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "02:00")
            .Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "seal", "02:00", "05:00", "ana").CleanDown("mon", "wall", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((1.0, 0.0, 1.0), (risk.In("mon").InWindow.Share, risk.In("mon").OverMinutes, risk.Of("seal").PutOff));
        Assert.InRange(risk.In("mon").P80!.Value.Hour, 2, 3);
        // On Tuesday Bo seals from 22:00 to 01:00 and, half an hour later, cleans down.
        Assert.Equal("10 02:00", risk.Finish.P90.Clock());
    }

    /// <summary>
    /// Tethering is noisy and banned from 02:30. Once posing is late it can only be done on Tuesday.
    /// </summary>
    [Fact]
    public void A_same_night_successor_stopped_by_a_ban_is_counted()
    {
        var plan = TinyWeek.New.Ban("mon", "noisy", "2027-03-09T02:30", "2027-03-09T06:00")
            .Task("pose", 240, WithEstimate(240, 300))
            .Task("tether", 30, WithPredecessor("pose", sameNight: true).Then(task => task with { Traits = ["noisy"] })).Plan
            .Shift("mon", "ana", "22:00", "02:30").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "pose", "22:00", "02:00", "ana").Work("mon", "tether", "02:00", "02:30", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 1.0), (risk.Secured.Held, risk.Of("tether").PutOff));
        Assert.Equal("09 22:30", risk.Finish.P50.Clock());
    }

    /// <summary>
    /// Opening and closing take half an hour each, so work may run from 22:30 to 05:30 and not until 05:35.
    /// </summary>
    [Fact]
    public void Work_past_the_closing_time_of_the_keyholder_is_late()
    {
        var plan = TinyWeek.New.Rules(new RuleSet { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30 })
            .Task("strip", 420, WithEstimate(420, 440)).Plan.Keyholder("mon", "ana")
            .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "cy", "22:30", "05:30")
            .Work("mon", "strip", "22:30", "05:30", "cy");
        var risk = plan.Risk();
        Assert.Equal(0, risk.In("mon").InWindow.Held);
        // Cy stays as long as Ana does: 20 / 3 minutes each.
        Assert.Equal(2 * 20 / 3.0, risk.In("mon").OvertimeMinutes, 0.4);
    }

    [Fact]
    public void The_last_task_waits_for_postponed_work()
    {
        var plan = TwoTasks.Task("floor", 60, task => task with { Last = true }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "floor", "22:00", "23:00", "bo");
        // Bo paints on Tuesday from 22:00 to 02:00, and then cleans the floor.
        Assert.Equal("10 03:00", plan.Risk().Finish.P50.Clock());
    }
}
