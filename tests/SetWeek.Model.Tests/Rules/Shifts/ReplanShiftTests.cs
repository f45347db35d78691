using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Rules.Shifts;

/// <summary>
/// Shifts under way in a re-plan (docs/decisions/replan-reading.md). Ana and Bo are on shift on Monday from 22:00 to 06:00 and
/// it is 23:40; shifts start and end on the quarter hour, so 23:45 is the soonest that one can end.
/// </summary>
public sealed class ReplanShiftTests
{
    private const string Now = "2027-03-08T23:40";

    private static readonly RuleSet Quarters = new() { ShiftGridMinutes = 15 };
    private static readonly TinyWeek Week = TinyWeek.New.Rules(Quarters).Task("mask", 60);

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "mask", "23:00", "00:00", "ana");

    /// <summary>Masking has not begun and is left to Bo, from 00:00.</summary>
    private static TinyPlan Idle(TinyWeek week, string anaLeaves, string now = Now) => week.Replan(Published, now)
        .Shift("mon", "ana", "22:00", anaLeaves).Shift("mon", "bo", "22:00", "06:00").Work("mon", "mask", "00:00", "01:00", "bo");

    /// <summary>Ana's masking began at 23:00 and runs, until 00:20 by report.</summary>
    private static TinyPlan Running(TinyWeek week, string anaLeaves, string until = "00:20") =>
        week.Replan(Published, Now, Published.Report("mon", "mask", WorkState.Running, "23:00", until))
            .Shift("mon", "ana", "22:00", anaLeaves).Shift("mon", "bo", "22:00", "06:00")
                .Work("mon", "mask", "23:00", until, "ana");

    private static TinyWeek AnaUntil(string time) =>
        Week.Person("ana", ana => ana with { Available = [new("mon", To: TinyWeek.Local(time))] });

    private static void Holds(TinyPlan plan, params string[] facts)
    {
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(facts, plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void Somebody_no_longer_there_goes_at_the_next_moment_and_no_later()
    {
        Holds(Idle(AnaUntil("2027-03-08T23:00"), "23:45"), "availability");
        Assert.Equal(["availability"], Idle(AnaUntil("2027-03-08T23:00"), "00:00").BrokenRules);
        // There until 00:00: nothing is excused, and nothing need be.
        Holds(Idle(AnaUntil("2027-03-09T00:00"), "00:00"));
        Assert.Equal(["availability"], Idle(AnaUntil("2027-03-09T00:00"), "00:15").BrokenRules);
    }

    [Fact]
    public void Somebody_absent_from_the_whole_night_goes_at_the_next_moment() =>
        Holds(Idle(Week.Person("ana", ana => ana with { Available = [new("tue")] }), "23:45"), "availability");

    [Fact]
    public void Now_on_the_grid_of_shifts_is_a_moment_to_end_at() =>
        Holds(Idle(AnaUntil("2027-03-08T23:00"), "23:45", "2027-03-08T23:45"), "availability");

    [Fact]
    public void A_begun_shift_already_too_long_ends_at_the_next_moment()
    {
        var week = Week.Person("ana", ana => ana with { MaxMinutesPerNight = 90 });
        Holds(Idle(week, "23:45"), "shift-length");
        Assert.Equal(["shift-length"], Idle(week, "00:00").BrokenRules);
    }

    /// <summary>Three hours are the least. Ana could stay until 01:00 unless she is no longer there.</summary>
    [Fact]
    public void A_begun_shift_is_cut_short_of_its_least_only_where_it_must_be()
    {
        var three = Quarters with { MinShiftMinutes = 180 };
        Assert.Equal(["shift-length"], Idle(Week.Rules(three), "23:45").BrokenRules);
        Holds(Idle(Week.Rules(three), "01:00"));
        Holds(Idle(AnaUntil("2027-03-08T23:00").Rules(three), "23:45"), "availability", "shift-length");
        Assert.Equal(["shift-length"], Idle(AnaUntil("2027-03-09T02:00").Rules(three), "23:45").BrokenRules);
        Holds(Idle(AnaUntil("2027-03-09T00:30").Rules(three), "23:45"), "shift-length");
    }

    [Fact]
    public void A_running_stint_lies_in_its_peoples_shifts_from_now_on()
    {
        Holds(Running(Week, "00:30"));
        Assert.Equal(["on-shift"], Running(Week, "00:15").BrokenRules);
    }

    [Fact]
    public void Running_work_holds_somebody_who_would_have_gone()
    {
        Holds(Running(AnaUntil("2027-03-08T23:00"), "00:30"), "availability");
        Assert.Equal(["availability"], Running(AnaUntil("2027-03-08T23:00"), "00:45").BrokenRules);
    }

    [Fact]
    public void Running_work_past_closes_holds_its_people_past_closes() =>
        Holds(Running(Week, "06:15", "06:10"), "window", "availability");

    [Fact]
    public void Somebody_whose_shift_is_over_is_at_running_work_by_fact()
    {
        var published = Week.Plan.Shift("mon", "ana", "22:00", "23:30").Work("mon", "mask", "22:30", "23:30", "ana");
        Holds(Week.Replan(published, Now, published.Report("mon", "mask", WorkState.Running, "22:40"))
            .Shift("mon", "ana", "22:00", "23:30").Work("mon", "mask", "22:40", "23:40", "ana"), "on-shift");
    }

    [Fact]
    public void Done_work_outside_its_shift_is_a_fact()
    {
        var published = Week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "mask", "22:00", "23:00", "ana");
        Holds(Week.Replan(published, Now, published.Report("mon", "mask", Done, "22:00", "23:10"))
            .Shift("mon", "ana", "22:00", "23:00").Work("mon", "mask", "22:00", "23:10", "ana"), "on-shift");
    }

    [Fact]
    public void A_break_moves_out_of_running_work()
    {
        var week = Week.Rules(Quarters with { BreakAfterMinutes = 240, BreakMinutes = 20 });
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00", "00:00", "00:20")
            .Work("mon", "mask", "23:00", "00:00", "ana");
        TinyPlan Breaks(string from, string to) => week.Replan(published, Now, published.Report("mon", "mask",
            WorkState.Running, "23:00", "00:20"))
            .Shift("mon", "ana", "22:00", "04:00", from, to).Work("mon", "mask", "23:00", "00:20", "ana");
        Assert.Equal(["on-shift"], Breaks("00:15", "00:35").BrokenRules);
        Holds(Breaks("00:20", "00:40"));
    }

    /// <summary>At 02:40 the four hours after which a break was due have passed.</summary>
    [Fact]
    public void A_break_that_comes_late_because_of_the_facts_is_a_fact_and_still_owed()
    {
        var week = TinyWeek.New.Rules(Quarters with { BreakAfterMinutes = 240, BreakMinutes = 20 });
        var replan = week.Replan(TinyWeek.New.Plan.Shift("mon", "ana", "22:00", "03:00"), "2027-03-09T02:40");
        Holds(replan.Shift("mon", "ana", "22:00", "06:00", "02:40", "03:00"), "break");
        Assert.Equal(["break"], replan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);
        // Gone at the next moment, there is no break left to have.
        Holds(replan.Shift("mon", "ana", "22:00", "02:45"), "break");
    }

    [Fact]
    public void Rest_after_a_begun_shift_binds_what_comes_after()
    {
        var week = Week.Rules(Quarters with { MinRestMinutes = 22 * 60 });
        var plan = week.Replan(Published, Now).Shift("mon", "bo", "22:00", "06:00").Work("mon", "mask", "00:00", "01:00", "bo");
        Assert.Empty(plan.Shift("mon", "ana", "22:00", "00:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        Assert.Equal(["rest"], plan.Shift("mon", "ana", "22:00", "00:15").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        // A commitment that was put so near that even going now is too late.
        var busy = week.Busy("ana", "2027-03-09T12:00", "2027-03-09T13:00");
        Holds(busy.Replan(Published, Now).Shift("mon", "bo", "22:00", "06:00").Work("mon", "mask", "00:00", "01:00", "bo")
            .Shift("mon", "ana", "22:00", "23:45"), "rest");
    }

    private static readonly TinyWeek Kept = Week.Rules(Quarters with { KeyholderPresent = true, OpeningMinutes = 30,
        ClosingMinutes = 30 });

    [Fact]
    public void The_first_keyholder_whose_shift_spans_all_the_others_is_named()
    {
        Holds(Idle(Kept, "06:00").Keyholder("mon", "ana"));
        Holds(Idle(Kept, "02:00").Keyholder("mon", "bo"));
        Assert.Equal(["keyholder"], Idle(Kept, "06:00").Keyholder("mon", "bo").BrokenRules);
    }

    /// <summary>
    /// Ana goes; Bo came at 22:15, so for the first quarter of an hour he does not span her shift: that is past.
    /// </summary>
    [Fact]
    public void Where_only_the_past_is_not_spanned_that_is_a_fact()
    {
        var published = Kept.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:15", "06:00")
            .Work("mon", "mask", "23:00", "00:00", "ana");
        var plan = Kept.Replan(published, Now).Shift("mon", "bo", "22:15", "06:00").Work("mon", "mask", "00:00", "01:00", "bo");
        Holds(plan.Shift("mon", "ana", "22:00", "23:45").Keyholder("mon", "bo"), "keyholder");
        Assert.Equal(["keyholder"], plan.Shift("mon", "ana", "22:00", "23:45").BrokenRules);
        // While Ana could span both, it is she who is named.
        Assert.Equal(["keyholder"], plan.Shift("mon", "ana", "22:00", "06:00").Keyholder("mon", "bo").BrokenRules);
    }

    [Fact]
    public void Work_that_began_before_the_opening_time_was_over_is_a_fact()
    {
        var published = Kept.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:30", "23:30", "ana");
        Holds(Kept.Replan(published, Now, published.Report("mon", "mask", Done, "22:20", "23:30"))
            .Shift("mon", "ana", "22:00", "06:00").Keyholder("mon", "ana")
                .Work("mon", "mask", "22:20", "23:30", "ana"), "open-close");
    }

    /// <summary>
    /// Running until 05:35 leaves 25 minutes to close in: the keyholder stays to the end of the night, no less.
    /// </summary>
    [Theory]
    [InlineData("06:00", true)]
    [InlineData("05:45", false)]
    public void Work_that_runs_into_the_closing_time_keeps_the_keyholder_to_the_end(string leaves, bool holds)
    {
        var published = Kept.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana");
        var plan = Kept.Replan(published, "2027-03-09T05:00", published.Report("mon", "mask", WorkState.Running, "04:10",
            "05:35"))
            .Shift("mon", "ana", "22:00", leaves).Keyholder("mon", "ana").Work("mon", "mask", "04:10", "05:35", "ana");
        Assert.Equal(holds ? [] : ["open-close"], plan.BrokenRules);
        Assert.Equal(holds ? ["open-close"] : [], plan.UnavoidablyBrokenRules);
    }

    /// <summary>
    /// Running until 05:22, the wall can be clean by 05:35 at the soonest, which leaves 25 minutes to close in. Running
    /// until 05:20, it can be clean by 05:30, and the half-hour is owed.
    /// </summary>
    [Theory]
    [InlineData("05:22", "05:25", "05:35", "06:00", true)]
    [InlineData("05:22", "05:25", "05:35", "05:45", false)]
    [InlineData("05:20", "05:25", "05:35", "06:00", false)]
    [InlineData("05:20", "05:20", "05:30", "06:00", true)]
    public void A_clean_down_after_work_that_runs_on_may_eat_into_the_closing_time(
        string until, string from, string to, string leaves, bool holds)
    {
        var week = Kept.CleanDown("wall", 10);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana")
            .CleanDown("mon", "wall", "05:00", "05:10", "ana");
        var plan = week.Replan(published, "2027-03-09T05:00", published.Report("mon", "mask", WorkState.Running, "04:10", until))
            .Shift("mon", "ana", "22:00", leaves).Keyholder("mon", "ana").Work("mon", "mask", "04:10", until, "ana");
        Assert.Equal(holds ? [] : ["open-close"], plan.CleanDown("mon", "wall", from, to, "ana").BrokenRules);
    }

    /// <summary>Bo's shift ended at 23:30. Ana is alone until 23:45 whatever is planned, and no longer than that.</summary>
    [Fact]
    public void Nobody_can_come_or_go_before_the_next_moment()
    {
        var week = TinyWeek.New.Rules(Quarters with { MinPeople = 2 });
        var plan = week.Replan(week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "23:30"), Now)
            .Shift("mon", "bo", "22:00", "23:30");
        Holds(plan.Shift("mon", "ana", "22:00", "23:45"), "two-person");
        Holds(plan.Shift("mon", "ana", "22:00", "02:00").Shift("mon", "cy", "23:45", "02:00"), "two-person");
        Assert.Equal(["two-person"], plan.Shift("mon", "ana", "22:00", "00:00").BrokenRules);
    }

    [Fact]
    public void A_begun_young_worker_past_the_hour_goes_at_the_next_moment()
    {
        var week = Week.Rules(Quarters with { Under18 = new() { Until = new(23, 0) } })
            .Person("ana", ana => ana with { Under18 = true });
        Holds(Idle(week, "23:45"), "young-worker");
        Assert.Equal(["young-worker"], Idle(week, "00:00").BrokenRules);
    }

    [Fact]
    public void Shifts_that_have_begun_count_towards_the_most_nights_and_one_more_is_a_fault()
    {
        var week = Week.Person("ana", ana => ana with { MaxNights = 1 });
        Holds(Idle(week, "06:00"));
        Assert.Equal(["shift-length"], Idle(week, "06:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        Holds(Idle(Week.Person("ana", ana => ana with { MaxNights = 0 }), "06:00"), "shift-length");
    }
}
