using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>What happens where work no longer fits its night. Nights are 22:00 to 06:00.</summary>
public sealed class LateNightTests
{
    private static TinyWeek TwoPieces => TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("paint", 240);

    /// <summary>Eight hours that are most likely just enough and never are: 480 to 600 minutes, 40 over on average.</summary>
    [Fact]
    public void What_was_begun_is_finished_and_the_night_runs_over()
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
    /// Stripping is never done by 02:00, so four hours of paint do not fit: on Tuesday Ana does it after her hour of signs.
    /// </summary>
    [Fact]
    public void What_does_not_fit_its_night_is_done_in_the_next_one_of_its_people()
    {
        var plan = TwoPieces.Task("signs", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "signs", "22:00", "23:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 1, 0), (risk.Of("strip").PutOff, risk.Of("paint").PutOff, risk.Of("signs").PutOff));
        Assert.Equal("10 03:00", risk.Finish.P50.Clock());
        // All of it after the 23:00 that she was asked for.
        Assert.Equal(240, risk.In("tue").OvertimeMinutes);
        Assert.Equal(1, risk.In("mon").InWindow.Share);
        Assert.Equal(1, risk.Launch.Share);
    }

    /// <summary>The signs go on the paint: on Tuesday that is what Ana does before them, from 22:00 to 02:00.</summary>
    [Fact]
    public void What_was_put_off_comes_before_what_waits_for_it()
    {
        var plan = TwoPieces.Task("steam", 30).Task("signs", 60, "paint").Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00").Shift("tue", "bo", "22:00", "22:30")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "signs", "22:00", "23:00", "ana").Work("tue", "steam", "22:00", "22:30", "bo");
        var risk = plan.Risk();
        Assert.Equal("10 03:00", risk.Finish.P10.Clock());
        Assert.Equal((1, 0, 0), (risk.Of("paint").PutOff, risk.Of("signs").PutOff, risk.Of("steam").PutOff));
    }

    [Fact]
    public void Somebody_else_with_the_skill_takes_it_where_its_people_are_not_on()
    {
        var plan = TwoPieces.Task("signs", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("wed", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("wed", "signs", "22:00", "23:00", "bo");
        Assert.Equal("11 03:00", plan.Risk().Finish.P50.Clock());
    }

    [Fact]
    public void What_no_night_takes_is_not_done_and_the_launch_and_its_due_are_missed()
    {
        var plan = TwoPieces.With(week => week with { Tasks = [.. week.Tasks.Select(task => task with { Due = "mon" })] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 0), (risk.Launch.Held, risk.Done.Held));
        Assert.Equal("never", risk.Finish.P10.Clock());
        Assert.Null(risk.Finish.MeanMinutes);
        Assert.Equal([new DueRisk("strip", "mon", new EstimatedProbability(2000, 2000)), new DueRisk("paint", "mon", new EstimatedProbability(0, 2000))],
            risk.Dues);
        // What it waited for is what drives it.
        Assert.Equal((1, 1), (risk.Of("strip").Criticality, risk.Of("paint").Criticality));
    }

    /// <summary>
    /// Bo may stay to 03:00 on Tuesday, and four hours of paint from 23:00 are just what that allows; from 23:05 not.
    /// </summary>
    [Theory]
    [InlineData("23:00", "10 03:00")]
    [InlineData("23:05", "never")]
    public void People_stay_as_long_as_they_can_and_no_longer(string from, string ends)
    {
        var plan = TwoPieces.Person("bo", bo => bo with { Available = [new("tue", To: TinyWeek.Local("2027-03-10T03:00"))] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", from, "23:45")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana");
        Assert.Equal(ends, plan.Risk().Finish.P50.Clock());
    }

    /// <summary>Posing ends after 05:30 and the half-hour of securing it follows all the same, past six.</summary>
    [Fact]
    public void What_belongs_to_the_same_night_is_done_in_it_however_late()
    {
        var plan = TinyWeek.New.Task("pose", 450, WithEstimate(450, 500)).Task("secure", 30, WithPredecessor("pose", sameNight: true)).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "pose", "22:00", "05:30", "ana").Work("mon", "secure", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal((0.0, 1.0, 0.0), (risk.In("mon").InWindow.Share, risk.Secured.Share, risk.Of("secure").PutOff));
    }

    /// <summary>Where posing and what must follow it do not fit any more, posing is not begun: both wait for Tuesday.</summary>
    [Fact]
    public void What_must_be_secured_is_not_begun_where_there_is_no_time_left_to_secure_it()
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

    /// <summary>The wall is cleaned down at 02:00; strip ends by 02:00 to 03:00, and the clean-down after it.</summary>
    [Fact]
    public void A_clean_down_follows_the_work_of_its_zone()
    {
        var plan = TinyWeek.New.CleanDown("wall", 30).Task("strip", 240, WithEstimate(240, 300)).Plan
            .Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "02:00", "02:30")
            .Work("mon", "strip", "22:00", "02:00", "ana").CleanDown("mon", "wall", "02:00", "02:30", "bo");
        Assert.Equal(240 + 20 + 30, plan.Risk(runs: 20_000).Finish.MeanMinutes!.Value, 0.5);
    }

    /// <summary>
    /// Paint goes to Tuesday, and with it the need to clean down the wall there; on Monday nothing was done in the wall.
    /// </summary>
    [Fact]
    public void A_clean_down_goes_where_the_work_goes()
    {
        var plan = TinyWeek.New.CleanDown("wall", 30)
            .Task("strip", 240, WithEstimate(240, 300).Then(task => task with { Zone = "floor" })).Task("paint", 210).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "05:30", "ana")
            .CleanDown("mon", "wall", "05:30", "06:00", "ana");
        var risk = plan.Risk();
        Assert.Equal("10 02:00", risk.Finish.P50.Clock());
        Assert.Equal(1, risk.In("mon").InWindow.Share);
        Assert.InRange(risk.In("mon").P80.Clock().CompareTo("09 03:00"), -1, 0);
    }

    /// <summary>
    /// Sealing, three hours and half an hour's airing, no longer fits before the clean-down once stripping is late, and goes to
    /// Tuesday; Monday's clean-down follows the stripping and does not wait for it.
    /// </summary>
    [Fact]
    public void A_clean_down_does_not_wait_for_what_closes_its_zone_another_night()
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
    /// Tethering is noisy and barred from 02:30; once posing is late it cannot be done before morning, and is on Tuesday.
    /// </summary>
    [Fact]
    public void What_a_ban_keeps_from_being_secured_is_counted()
    {
        var plan = TinyWeek.New.Ban("mon", "noisy", "2027-03-09T02:30", "2027-03-09T06:00").Task("pose", 240, WithEstimate(240, 300))
            .Task("tether", 30, WithPredecessor("pose", sameNight: true).Then(task => task with { Traits = ["noisy"] })).Plan
            .Shift("mon", "ana", "22:00", "02:30").Shift("tue", "ana", "22:00", "23:00")
            .Work("mon", "pose", "22:00", "02:00", "ana").Work("mon", "tether", "02:00", "02:30", "ana");
        var risk = plan.Risk();
        Assert.Equal((0, 1.0), (risk.Secured.Held, risk.Of("tether").PutOff));
        Assert.Equal("09 22:30", risk.Finish.P50.Clock());
    }

    /// <summary>
    /// The keyholder opens for half an hour and closes for as long: work from 22:30 to 05:30, and 05:35 is over.
    /// </summary>
    [Fact]
    public void The_keyholder_has_to_close_as_well()
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
    public void The_final_floor_clean_waits_for_everything()
    {
        var plan = TwoPieces.Task("floor", 60, task => task with { Last = true }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana")
            .Work("tue", "floor", "22:00", "23:00", "bo");
        // Paint by Bo on Tuesday, 22:00 to 02:00, and then the floor.
        Assert.Equal("10 03:00", plan.Risk().Finish.P50.Clock());
    }
}
