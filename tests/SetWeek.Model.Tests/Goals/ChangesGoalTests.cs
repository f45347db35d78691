using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class ChangesGoalTests
{
    /// <summary>
    /// The published plan has Ana on Monday and Tuesday, Bo on Wednesday, and masking on Tuesday. It is Monday noon, so
    /// nothing has begun.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60);

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "02:00")
        .Shift("tue", "ana", "22:00", "02:00")
        .Shift("wed", "bo", "22:00", "02:00").Work("tue", "mask", "22:00", "23:00", "ana");

    private static TinyPlan Replan(int? notice = null) => Week.Rules(new() { NoticeMinutes = notice })
        .Replan(Published, "2027-03-08T12:00");

    private static TinyPlan WithPublishedSchedule(TinyPlan plan) => plan with { Schedule = Published.Schedule };

    [Fact]
    public void The_published_plan_has_no_changes() => Assert.Equal(0, WithPublishedSchedule(Replan(1440)).Goal(GoalId.Changes));

    [Fact]
    public void A_first_plan_has_no_changes() => Assert.Equal(0, Published.Goal(GoalId.Changes));

    [Fact]
    public void A_shift_added_counts_two() =>
        Assert.Equal(2, WithPublishedSchedule(Replan()).Shift("tue", "cy", "22:00", "02:00").Goal(GoalId.Changes));

    /// <summary>All three shifts are dropped: 6. Masking is in the published plan only and does not count.</summary>
    [Fact]
    public void Shifts_dropped_count_two_each() => Assert.Equal(6, Replan().Goal(GoalId.Changes));

    /// <summary>
    /// Monday's start, Tuesday's end, and Wednesday's start and end move: one each. A moved break does not count.
    /// </summary>
    [Fact]
    public void A_moved_shift_counts_one() => Assert.Equal(3, Replan().Shift("mon", "ana", "22:15", "02:00", "00:00", "00:20")
        .Shift("tue", "ana", "22:00", "02:15").Shift("wed", "bo", "22:15", "02:15").Work("tue", "mask", "22:00", "23:00", "ana")
            .Goal(GoalId.Changes));

    /// <summary>
    /// A notice of 36 h reaches to Wednesday 00:00. The changes on Monday and Tuesday count three times, that on Wednesday at
    /// 22:00 once: 3 + 3 + 1.
    /// </summary>
    [Fact]
    public void Changes_at_short_notice_count_three_times() =>
        Assert.Equal(7, Replan(36 * 60).Shift("mon", "ana", "22:15", "02:00")
        .Shift("tue", "ana", "22:00", "02:15").Shift("wed", "bo", "22:15", "02:15").Work("tue", "mask", "22:00", "23:00", "ana")
            .Goal(GoalId.Changes));

    /// <summary>A notice of 34 h reaches to Tuesday 22:00 exactly. A shift that starts then is outside it.</summary>
    [Theory]
    [InlineData(34 * 60, 2)]
    [InlineData(34 * 60 + 1, 6)]
    public void A_shift_that_starts_when_the_notice_ends_is_not_at_short_notice(int notice, long changes) =>
        Assert.Equal(changes, WithPublishedSchedule(Replan(notice)).Shift("tue", "cy", "22:00", "02:00").Goal(GoalId.Changes));

    /// <summary>The notice reaches to 22:10. The shift moves from 22:15, outside it, to 22:00, within it.</summary>
    [Fact]
    public void A_change_is_at_short_notice_if_its_old_or_its_new_start_is()
    {
        var published = Week.Plan.Shift("tue", "ana", "22:15", "02:00");
        var week = Week.Rules(new() { NoticeMinutes = 34 * 60 + 10 });
        Assert.Equal(3, week.Replan(published, "2027-03-08T12:00").Shift("tue", "ana", "22:00", "02:00").Goal(GoalId.Changes));
    }

    /// <summary>Masking moves to Wednesday: 1. The shifts stay.</summary>
    [Fact]
    public void A_stint_in_another_night_counts_one() =>
        Assert.Equal(1, (WithPublishedSchedule(Replan()) with { Schedule = Published.Schedule with { Work = [] } })
            .Work("wed", "mask", "22:00", "23:00", "bo").Goal(GoalId.Changes));

    [Fact]
    public void A_stint_later_in_its_night_counts_nothing() =>
        Assert.Equal(0, (WithPublishedSchedule(Replan()) with { Schedule = Published.Schedule with { Work = [] } })
            .Work("tue", "mask", "23:00", "00:00", "ana").Goal(GoalId.Changes));
}
