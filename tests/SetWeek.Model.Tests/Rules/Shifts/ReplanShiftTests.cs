using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Rules.Shifts;

/// <summary>
/// Shifts that have begun, in a re-plan (docs/decisions/replan-reading.md). Ana and Bo are on shift on Monday from 22:00 to
/// 06:00. It is 23:40 and shifts end on the quarter hour, so a shift can end at 23:45 at the earliest. A breach that no plan
/// can avoid any more is listed as unavoidable and does not count as broken.
/// </summary>
public sealed class ReplanShiftTests
{
    private const string Now = "2027-03-08T23:40";

    private static readonly RuleSet Quarters = new() { ShiftGridMinutes = 15 };
    private static readonly TinyWeek Week = TinyWeek.New.Rules(Quarters).Task("mask", 60);

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "mask", "23:00", "00:00", "ana");

    /// <summary>Masking has not begun. Bo does it from 00:00.</summary>
    private static TinyPlan WithoutBegunWork(TinyWeek week, string anaLeaves, string now = Now) => week.Replan(Published, now)
        .Shift("mon", "ana", "22:00", anaLeaves).Shift("mon", "bo", "22:00", "06:00").Work("mon", "mask", "00:00", "01:00", "bo");

    /// <summary>Ana's masking began at 23:00. A report says that it runs until 00:20.</summary>
    private static TinyPlan WithRunningWork(TinyWeek week, string anaLeaves, string until = "00:20") =>
        week.Replan(Published, Now, Published.Report("mon", "mask", WorkState.Running, "23:00", until))
            .Shift("mon", "ana", "22:00", anaLeaves).Shift("mon", "bo", "22:00", "06:00")
                .Work("mon", "mask", "23:00", until, "ana");

    private static TinyWeek AnaUntil(string time) =>
        Week.Person("ana", ana => ana with { Available = [new("mon", To: TinyWeek.Local(time))] });

    private static void AssertOnlyUnavoidable(TinyPlan plan, params string[] unavoidable)
    {
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(unavoidable, plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void Somebody_no_longer_available_leaves_at_the_next_slot()
    {
        AssertOnlyUnavoidable(WithoutBegunWork(AnaUntil("2027-03-08T23:00"), "23:45"), "availability");
        Assert.Equal(["availability"], WithoutBegunWork(AnaUntil("2027-03-08T23:00"), "00:00").BrokenRules);
        // Ana is available until 00:00, so no breach is unavoidable.
        AssertOnlyUnavoidable(WithoutBegunWork(AnaUntil("2027-03-09T00:00"), "00:00"));
        Assert.Equal(["availability"], WithoutBegunWork(AnaUntil("2027-03-09T00:00"), "00:15").BrokenRules);
    }

    [Fact]
    public void Somebody_not_available_this_night_leaves_at_the_next_slot() =>
        AssertOnlyUnavoidable(WithoutBegunWork(Week.Person("ana", ana =>
            ana with { Available = [new("tue")] }), "23:45"), "availability");

    [Fact]
    public void A_shift_can_end_now_where_now_is_a_slot_of_the_shift_grid() =>
        AssertOnlyUnavoidable(WithoutBegunWork(AnaUntil("2027-03-08T23:00"), "23:45", "2027-03-08T23:45"), "availability");

    [Fact]
    public void A_begun_shift_that_is_already_too_long_ends_at_the_next_slot()
    {
        var week = Week.Person("ana", ana => ana with { MaxMinutesPerNight = 90 });
        AssertOnlyUnavoidable(WithoutBegunWork(week, "23:45"), "shift-length");
        Assert.Equal(["shift-length"], WithoutBegunWork(week, "00:00").BrokenRules);
    }

    /// <summary>A shift lasts at least threeHours hours. Ana could stay until 01:00 unless she is no longer available.</summary>
    [Fact]
    public void A_begun_shift_is_shorter_than_the_minimum_only_where_unavoidable()
    {
        var threeHours = Quarters with { MinShiftMinutes = 180 };
        Assert.Equal(["shift-length"], WithoutBegunWork(Week.Rules(threeHours), "23:45").BrokenRules);
        AssertOnlyUnavoidable(WithoutBegunWork(Week.Rules(threeHours), "01:00"));
        AssertOnlyUnavoidable(WithoutBegunWork(AnaUntil("2027-03-08T23:00")
            .Rules(threeHours), "23:45"), "availability", "shift-length");
        Assert.Equal(["shift-length"], WithoutBegunWork(AnaUntil("2027-03-09T02:00").Rules(threeHours), "23:45").BrokenRules);
        AssertOnlyUnavoidable(WithoutBegunWork(AnaUntil("2027-03-09T00:30").Rules(threeHours), "23:45"), "shift-length");
    }

    [Fact]
    public void A_shift_covers_running_work_until_its_end()
    {
        AssertOnlyUnavoidable(WithRunningWork(Week, "00:30"));
        Assert.Equal(["on-shift"], WithRunningWork(Week, "00:15").BrokenRules);
    }

    [Fact]
    public void Somebody_no_longer_available_stays_until_running_work_ends()
    {
        AssertOnlyUnavoidable(WithRunningWork(AnaUntil("2027-03-08T23:00"), "00:30"), "availability");
        Assert.Equal(["availability"], WithRunningWork(AnaUntil("2027-03-08T23:00"), "00:45").BrokenRules);
    }

    [Fact]
    public void Running_work_past_the_closing_keeps_its_people_past_the_closing() =>
        AssertOnlyUnavoidable(WithRunningWork(Week, "06:15", "06:10"), "window", "availability");

    [Fact]
    public void Running_work_of_somebody_whose_shift_is_over_is_unavoidable()
    {
        var published = Week.Plan.Shift("mon", "ana", "22:00", "23:30").Work("mon", "mask", "22:30", "23:30", "ana");
        AssertOnlyUnavoidable(Week.Replan(published, Now, published.Report("mon", "mask", WorkState.Running, "22:40"))
            .Shift("mon", "ana", "22:00", "23:30").Work("mon", "mask", "22:40", "23:40", "ana"), "on-shift");
    }

    [Fact]
    public void Done_work_outside_its_shift_is_unavoidable()
    {
        var published = Week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "mask", "22:00", "23:00", "ana");
        AssertOnlyUnavoidable(Week.Replan(published, Now, published.Report("mon", "mask", Done, "22:00", "23:10"))
            .Shift("mon", "ana", "22:00", "23:00").Work("mon", "mask", "22:00", "23:10", "ana"), "on-shift");
    }

    [Fact]
    public void A_break_may_not_overlap_running_work()
    {
        var week = Week.Rules(Quarters with { BreakAfterMinutes = 240, BreakMinutes = 20 });
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00", "00:00", "00:20")
            .Work("mon", "mask", "23:00", "00:00", "ana");
        TinyPlan Breaks(string from, string to) => week.Replan(published, Now, published.Report("mon", "mask",
            WorkState.Running, "23:00", "00:20"))
            .Shift("mon", "ana", "22:00", "04:00", from, to).Work("mon", "mask", "23:00", "00:20", "ana");
        Assert.Equal(["on-shift"], Breaks("00:15", "00:35").BrokenRules);
        AssertOnlyUnavoidable(Breaks("00:20", "00:40"));
    }

    /// <summary>At 02:40 more than four hours have passed without a break.</summary>
    [Fact]
    public void A_break_already_overdue_is_an_unavoidable_breach_and_still_owed()
    {
        var week = TinyWeek.New.Rules(Quarters with { BreakAfterMinutes = 240, BreakMinutes = 20 });
        var replan = week.Replan(TinyWeek.New.Plan.Shift("mon", "ana", "22:00", "03:00"), "2027-03-09T02:40");
        AssertOnlyUnavoidable(replan.Shift("mon", "ana", "22:00", "06:00", "02:40", "03:00"), "break");
        Assert.Equal(["break"], replan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);
        // If she leaves at the next slot, she needs no break.
        AssertOnlyUnavoidable(replan.Shift("mon", "ana", "22:00", "02:45"), "break");
    }

    [Fact]
    public void Rest_after_a_begun_shift_is_required()
    {
        var week = Week.Rules(Quarters with { MinRestMinutes = 22 * 60 });
        var plan = week.Replan(Published, Now).Shift("mon", "bo", "22:00", "06:00").Work("mon", "mask", "00:00", "01:00", "bo");
        Assert.Empty(plan.Shift("mon", "ana", "22:00", "00:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        Assert.Equal(["rest"], plan.Shift("mon", "ana", "22:00", "00:15").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        // With a commitment this near, even leaving now leaves too little rest.
        var busy = week.Busy("ana", "2027-03-09T12:00", "2027-03-09T13:00");
        AssertOnlyUnavoidable(busy.Replan(Published, Now).Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "mask", "00:00", "01:00", "bo")
            .Shift("mon", "ana", "22:00", "23:45"), "rest");
    }

    private static readonly TinyWeek WithKeyholder = Week.Rules(Quarters with { KeyholderPresent = true, OpeningMinutes = 30,
        ClosingMinutes = 30 });

    [Fact]
    public void The_first_keyholder_whose_shift_spans_all_the_others_is_named()
    {
        AssertOnlyUnavoidable(WithoutBegunWork(WithKeyholder, "06:00").Keyholder("mon", "ana"));
        AssertOnlyUnavoidable(WithoutBegunWork(WithKeyholder, "02:00").Keyholder("mon", "bo"));
        Assert.Equal(["keyholder"], WithoutBegunWork(WithKeyholder, "06:00").Keyholder("mon", "bo").BrokenRules);
    }

    /// <summary>
    /// Ana leaves. Bo came at 22:15, so his shift does not cover the first 15 minutes of hers, which are past.
    /// </summary>
    [Fact]
    public void A_keyholder_who_misses_only_past_time_is_unavoidable()
    {
        var published = WithKeyholder.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:15", "06:00")
            .Work("mon", "mask", "23:00", "00:00", "ana");
        var plan = WithKeyholder.Replan(published, Now).Shift("mon", "bo", "22:15", "06:00")
            .Work("mon", "mask", "00:00", "01:00", "bo");
        AssertOnlyUnavoidable(plan.Shift("mon", "ana", "22:00", "23:45").Keyholder("mon", "bo"), "keyholder");
        Assert.Equal(["keyholder"], plan.Shift("mon", "ana", "22:00", "23:45").BrokenRules);
        // Ana can span both shifts, so the plan must name her.
        Assert.Equal(["keyholder"], plan.Shift("mon", "ana", "22:00", "06:00").Keyholder("mon", "bo").BrokenRules);
    }

    [Fact]
    public void Work_that_began_in_the_opening_time_is_unavoidable()
    {
        var published = WithKeyholder.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:30", "23:30", "ana");
        AssertOnlyUnavoidable(WithKeyholder.Replan(published, Now, published.Report("mon", "mask", Done, "22:20", "23:30"))
            .Shift("mon", "ana", "22:00", "06:00").Keyholder("mon", "ana")
                .Work("mon", "mask", "22:20", "23:30", "ana"), "open-close");
    }

    /// <summary>
    /// Work that runs until 05:35 leaves 25 minutes to close. The keyholder must stay to the end of the night.
    /// </summary>
    [Theory]
    [InlineData("06:00", true)]
    [InlineData("05:45", false)]
    public void Running_work_in_the_closing_time_keeps_the_keyholder_until_the_closing(string leaves, bool allowed)
    {
        var published = WithKeyholder.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana");
        var plan = WithKeyholder.Replan(published, "2027-03-09T05:00", published.Report("mon", "mask", WorkState.Running, "04:10",
            "05:35"))
            .Shift("mon", "ana", "22:00", leaves).Keyholder("mon", "ana").Work("mon", "mask", "04:10", "05:35", "ana");
        Assert.Equal(allowed ? [] : ["open-close"], plan.BrokenRules);
        Assert.Equal(allowed ? ["open-close"] : [], plan.UnavoidablyBrokenRules);
    }

    /// <summary>
    /// After work that runs until 05:22 the wall can be clean by 05:35, which leaves 25 minutes to close. After work that runs
    /// until 05:20 it can be clean by 05:30, so the full half-hour is required.
    /// </summary>
    [Theory]
    [InlineData("05:22", "05:25", "05:35", "06:00", true)]
    [InlineData("05:22", "05:25", "05:35", "05:45", false)]
    [InlineData("05:20", "05:25", "05:35", "06:00", false)]
    [InlineData("05:20", "05:20", "05:30", "06:00", true)]
    public void A_clean_down_after_running_work_may_shorten_the_closing_time(
        string until, string from, string to, string leaves, bool allowed)
    {
        var week = WithKeyholder.CleanDown("wall", 10);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana")
            .CleanDown("mon", "wall", "05:00", "05:10", "ana");
        var plan = week.Replan(published, "2027-03-09T05:00", published.Report("mon", "mask", WorkState.Running, "04:10", until))
            .Shift("mon", "ana", "22:00", leaves).Keyholder("mon", "ana").Work("mon", "mask", "04:10", until, "ana");
        Assert.Equal(allowed ? [] : ["open-close"], plan.CleanDown("mon", "wall", from, to, "ana").BrokenRules);
    }

    /// <summary>Bo's shift ended at 23:30. Ana is alone until 23:45 in every plan, and may not be alone longer.</summary>
    [Fact]
    public void Being_alone_until_the_next_slot_is_unavoidable()
    {
        var week = TinyWeek.New.Rules(Quarters with { MinPeople = 2 });
        var plan = week.Replan(week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "23:30"), Now)
            .Shift("mon", "bo", "22:00", "23:30");
        AssertOnlyUnavoidable(plan.Shift("mon", "ana", "22:00", "23:45"), "two-person");
        AssertOnlyUnavoidable(plan.Shift("mon", "ana", "22:00", "02:00").Shift("mon", "cy", "23:45", "02:00"), "two-person");
        Assert.Equal(["two-person"], plan.Shift("mon", "ana", "22:00", "00:00").BrokenRules);
    }

    [Fact]
    public void A_young_worker_past_the_limit_leaves_at_the_next_slot()
    {
        var week = Week.Rules(Quarters with { Under18 = new() { Until = new(23, 0) } })
            .Person("ana", ana => ana with { Under18 = true });
        AssertOnlyUnavoidable(WithoutBegunWork(week, "23:45"), "young-worker");
        Assert.Equal(["young-worker"], WithoutBegunWork(week, "00:00").BrokenRules);
    }

    [Fact]
    public void Begun_shifts_count_towards_the_maximum_number_of_nights()
    {
        var week = Week.Person("ana", ana => ana with { MaxNights = 1 });
        AssertOnlyUnavoidable(WithoutBegunWork(week, "06:00"));
        Assert.Equal(["shift-length"], WithoutBegunWork(week, "06:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);
        AssertOnlyUnavoidable(WithoutBegunWork(Week.Person("ana", ana => ana with { MaxNights = 0 }), "06:00"), "shift-length");
    }
}
