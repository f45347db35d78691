using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Rules.Form;

/// <summary>
/// It is Monday, 23:30. The published plan has masking by Ana, 22:00 to 23:00, which is done, and painting by Bo, 23:00 to
/// 00:00, which is running. Ana does the signs from 00:00 to 00:30 on Tuesday night. Cy's shift ended at 23:00.
/// </summary>
public sealed class FrozenRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { BreakAfterMinutes = 420, BreakMinutes = 20 })
        .Task("mask", 60).Task("paint", 60).Task("sign", 30);

    private static readonly TinyPlan Published = Week.Plan
        .Shift("mon", "ana", "22:00", "06:00", "23:15", "23:35").Shift("mon", "bo", "22:00", "04:00")
            .Shift("mon", "cy", "22:00", "23:00")
        .Shift("tue", "ana", "22:00", "02:00").Work("mon", "mask", "22:00", "23:00", "ana")
            .Work("mon", "paint", "23:00", "00:00", "bo")
        .Work("tue", "sign", "00:00", "00:30", "ana");

    private static readonly ProgressReport[] Reports =
        [Published.Report("mon", "mask", Done, "22:04", "23:11"), Published.Report("mon", "paint", Running, "23:02")];

    private static TinyPlan Replan(params ProgressReport[] more) =>
        Week.Replan(Published, "2027-03-08T23:30", [.. Reports, .. more]);

    private static TinyPlan Shifts(TinyPlan plan) => plan.Shift("mon", "ana", "22:00", "06:00", "23:15", "23:35")
        .Shift("mon", "bo", "22:00", "04:00").Shift("mon", "cy", "22:00", "23:00").Shift("tue", "ana", "22:00", "02:00");

    private static TinyPlan Begun(TinyPlan plan) => plan.Work("mon", "mask", "22:04", "23:11", "ana")
        .Work("mon", "paint", "23:02", "00:02", "bo");

    private static TinyPlan Sign(TinyPlan plan) => plan.Work("tue", "sign", "00:00", "00:30", "ana");

    [Fact]
    public void Reported_work_keeps_its_reported_times_even_off_the_grid()
    {
        var plan = Sign(Begun(Shifts(Replan())));
        Assert.Empty(plan.BrokenRules);
        Assert.Empty(plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void Begun_work_at_another_time_is_caught() => Assert.Equal("“mask” has begun, but the plan changes it.",
        Sign(Shifts(Replan())).Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:02", "00:02", "bo")
            .SingleBreach.Sentence);

    [Fact]
    public void Begun_work_with_another_person_is_caught() => Assert.Equal(["frozen"],
        Sign(Shifts(Replan())).Work("mon", "mask", "22:04", "23:11", "bo")
            .Work("mon", "paint", "23:02", "00:02", "bo").BrokenRules);

    [Fact]
    public void Nothing_new_starts_before_now()
    {
        Assert.Equal(["frozen"], Begun(Shifts(Replan())).Work("mon", "sign", "23:10", "23:40", "ana")
            .BrokenRules.Except(["one-place", "on-shift"]));
        Assert.Empty(Begun(Shifts(Replan())).Work("mon", "sign", "23:35", "00:05", "ana").BrokenRules);
        var more = Sign(Begun(Shifts(Week.Person("di", di => di).Replan(Published, "2027-03-08T23:30", Reports))));
        Assert.Equal(["frozen"], more.Shift("mon", "di", "23:25", "02:00").BrokenRules);
        Assert.Empty(more.Shift("mon", "di", "23:30", "02:00").BrokenRules);
    }

    [Fact]
    public void An_ended_shift_that_is_missing_is_caught() => Assert.Equal(
        "Cy's shift in the night of Mon 8 Mar is over, but the plan changes it.",
        Sign(Begun(Replan())).Shift("mon", "ana", "22:00", "06:00", "23:15", "23:35").Shift("mon", "bo", "22:00", "04:00")
            .Shift("tue", "ana", "22:00", "02:00").SingleBreach.Sentence);

    [Theory]
    [InlineData("22:00", "05:00", true)] // the end may move
    [InlineData("22:00", "00:05", true)]
    [InlineData("22:05", "04:00", false)]
    public void A_begun_shift_keeps_its_start(string from, string to, bool allowed) => Assert.Equal(allowed ? [] : ["frozen"],
        Sign(Begun(Replan())).Shift("mon", "ana", "22:00", "06:00", "23:15", "23:35").Shift("mon", "bo", from, to)
            .Shift("mon", "cy", "22:00", "23:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    /// <summary>No work is running, so only the current time limits the end.</summary>
    [Theory]
    [InlineData("23:30", true)]
    [InlineData("23:25", false)]
    public void A_begun_shift_ends_at_or_after_now(string to, bool allowed)
    {
        var week = TinyWeek.New;
        var replan = week.Replan(week.Plan.Shift("mon", "ana", "22:00", "06:00"), "2027-03-08T23:30");
        Assert.Equal(allowed ? [] : ["frozen"], replan.Shift("mon", "ana", "22:00", to).BrokenRules);
    }

    [Fact]
    public void A_begun_break_may_not_move() => Assert.Equal(["frozen"],
        Sign(Begun(Replan())).Shift("mon", "ana", "22:00", "06:00", "02:00", "02:20").Shift("mon", "bo", "22:00", "04:00")
            .Shift("mon", "cy", "22:00", "23:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void A_begun_break_stays_in_a_shift_too_short_for_a_break()
    {
        var plan = Sign(Begun(Replan())).Shift("mon", "ana", "22:00", "02:00", "23:15", "23:35")
            .Shift("mon", "bo", "22:00", "04:00")
            .Shift("mon", "cy", "22:00", "23:00").Shift("tue", "ana", "22:00", "02:00");
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(["break"], plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void A_break_that_has_not_begun_may_move_but_not_before_now()
    {
        var week = TinyWeek.New.Rules(new() { BreakAfterMinutes = 300, BreakMinutes = 20 });
        var replan = week.Replan(week.Plan.Shift("mon", "ana", "22:00", "06:00", "02:00", "02:20"), "2027-03-09T01:30");
        Assert.Empty(replan.Shift("mon", "ana", "22:00", "06:00", "01:30", "01:50").BrokenRules);
        Assert.Equal(["frozen"], replan.Shift("mon", "ana", "22:00", "06:00", "01:25", "01:45").BrokenRules);
    }

    [Fact]
    public void Blocked_work_starts_no_earlier_than_its_reported_time()
    {
        var replan = Shifts(Replan(Published.Report("mon", "sign", Blocked, until: "01:00")));
        Assert.Equal("“sign” starts Tue 9 Mar 00:55, but is blocked until Tue 9 Mar 01:00.", Begun(replan)
            .Work("mon", "sign", "00:55", "01:25", "ana").SingleBreach.Sentence);
        Assert.Empty(Begun(replan).Work("mon", "sign", "01:00", "01:30", "ana").BrokenRules);
    }

    [Fact]
    public void Work_blocked_without_an_end_cannot_be_planned() =>
        Assert.Equal("“sign” is blocked until an unknown time, but is planned.",
        Sign(Begun(Shifts(Replan(Published.Report("mon", "sign", Blocked))))).SingleBreach.Sentence);

    [Theory]
    [InlineData(0, "00:25", "ana", null)] // 23 minutes remain, 25 on the grid; another person may do them
    [InlineData(0, "00:20", "ana", "whole")]
    [InlineData(0, "00:30", "ana", "whole")]
    [InlineData(1, "00:25", "ana", "frozen")]
    public void The_rest_of_blocked_work_keeps_its_mode(int mode, string to, string person, string? broken)
    {
        var week = TinyWeek.New.Task("paint", 60, task => task with { Modes = [.. task.Modes, new(30, [new("hands", 1)])] });
        var published = week.Plan.Shift("mon", "bo", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "paint", "22:00", "23:00", "bo");
        var replan = week.Replan(published, "2027-03-08T22:40", published.Report("mon", "paint", Blocked, "22:00",
            remaining: 23, until: "23:00"));
        Assert.Equal(broken is null ? [] : [broken], replan.Shift("mon", "bo", "22:00", "06:00")
            .Shift("mon", "ana", "22:00", "06:00")
            .Stint("mon", "paint", 1, mode, "00:00", to, person).BrokenRules);
    }

    /// <summary>
    /// A want that was begun and then reopened may not be dropped. Its work may be repeated in another mode by others.
    /// </summary>
    [Fact]
    public void A_display_whose_work_has_begun_stays_in_the_plan()
    {
        var week = TinyWeek.New.Display("wall", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Task("paint", 60, task => task with { Modes = [.. task.Modes, new(30, [new("hands", 2)])] });
        var published = week.Plan.Shift("mon", "bo", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "paint", "22:00", "23:00", "bo");
        var replan = week.Replan(published, "2027-03-08T23:40", published.Report("mon", "paint", Reopened))
            .Shift("mon", "bo", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00");
        Assert.Equal("Work on “The wall” has begun, so the plan must include it.", replan.SingleBreach.Sentence);
        Assert.Empty(replan.Stint("mon", "paint", 1, 1, "00:00", "00:30", "ana", "bo").BrokenRules);
    }

    [Fact]
    public void A_stint_that_has_not_begun_may_take_another_mode()
    {
        var week = TinyWeek.New
            .Task("fill", 80, task => task with { Stints = 2, Modes = [.. task.Modes, new(50, [new("hands", 2)])] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "fill", "22:00", "22:40", "ana").Stint("mon", "fill", 2, 0, "23:00", "23:40", "ana");
        Assert.Empty(week.Replan(published, "2027-03-08T22:50", published.Report("mon", "fill", Done, "22:00", "22:45"))
            .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "fill", "22:00", "22:45", "ana").Stint("mon", "fill", 2, 1, "23:00", "23:25", "ana", "bo").BrokenRules);
    }

    [Fact]
    public void A_begun_clean_down_keeps_its_time()
    {
        var week = TinyWeek.New.CleanDown("wall", 10).Task("mask", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana")
            .CleanDown("mon", "wall", "23:00", "23:10", "ana");
        var replan = week.Replan(published, "2027-03-08T23:30", published.Report("mon", "mask", Done, "22:00", "23:00"),
            published.ReportCleanDown("mon", "wall", Done, "23:03", "23:20")).Shift("mon", "ana", "22:00", "06:00")
                .Work("mon", "mask", "22:00", "23:00", "ana");
        Assert.Empty(replan.CleanDown("mon", "wall", "23:03", "23:20", "ana").BrokenRules);
        Assert.Contains("frozen", replan.CleanDown("mon", "wall", "23:30", "23:40", "ana").BrokenRules);
    }

    [Fact]
    public void A_night_that_is_over_keeps_its_keyholder()
    {
        var week = TinyWeek.New;
        var published = week.Plan.Shift("mon", "ana", "22:00", "02:00").Keyholder("mon", "ana");
        var replan = week.Replan(published, "2027-03-09T12:00").Shift("mon", "ana", "22:00", "02:00");
        Assert.Empty(replan.Keyholder("mon", "ana").BrokenRules);
        Assert.Equal(["frozen"], replan.Keyholder("mon", "bo").BrokenRules);
    }
}
