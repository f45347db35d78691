using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Tests.Goals;

public sealed class ChangesGoalTests
{
    /// <summary>
    /// Published: Ana on Monday and Tuesday, Bo on Wednesday, masking on Tuesday. It is Monday noon: nothing has begun.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60);

    private static readonly TinyPlan Published = Week.Plan.Shift("mon", "ana", "22:00", "02:00")
        .Shift("tue", "ana", "22:00", "02:00")
        .Shift("wed", "bo", "22:00", "02:00").Work("tue", "mask", "22:00", "23:00", "ana");

    private static TinyPlan Replan(int? notice = null) => Week.Rules(new() { NoticeMinutes = notice })
        .Replan(Published, "2027-03-08T12:00");

    private static TinyPlan Kept(TinyPlan plan) => plan with { Schedule = Published.Schedule };

    [Fact]
    public void The_same_plan_has_none() => Assert.Equal(0, Kept(Replan(1440)).Goal(GoalId.Changes));

    [Fact]
    public void A_first_plan_has_none() => Assert.Equal(0, Published.Goal(GoalId.Changes));

    [Fact]
    public void A_shift_added_counts_two() =>
        Assert.Equal(2, Kept(Replan()).Shift("tue", "cy", "22:00", "02:00").Goal(GoalId.Changes));

    /// <summary>Both of Ana's shifts and Bo's are dropped: 6; masking is in one plan only and counts nothing.</summary>
    [Fact]
    public void Shifts_dropped_count_two_each() => Assert.Equal(6, Replan().Goal(GoalId.Changes));

    /// <summary>Monday's from, Tuesday's to, and Wednesday's from and to: one each. A break is no change.</summary>
    [Fact]
    public void A_shift_moved_counts_one() => Assert.Equal(3, Replan().Shift("mon", "ana", "22:15", "02:00", "00:00", "00:20")
        .Shift("tue", "ana", "22:00", "02:15").Shift("wed", "bo", "22:15", "02:15").Work("tue", "mask", "22:00", "23:00", "ana")
            .Goal(GoalId.Changes));

    /// <summary>
    /// Notice of a day and a half reaches to Wednesday 00:00: Monday's and Tuesday's changes count three times, Wednesday's
    /// (22:00) once. 3 + 3 + 1.
    /// </summary>
    [Fact]
    public void At_short_notice_they_count_three_times() => Assert.Equal(7, Replan(36 * 60).Shift("mon", "ana", "22:15", "02:00")
        .Shift("tue", "ana", "22:00", "02:15").Shift("wed", "bo", "22:15", "02:15").Work("tue", "mask", "22:00", "23:00", "ana")
            .Goal(GoalId.Changes));

    /// <summary>Notice of 34 h 00 reaches to Tuesday 22:00 exactly, and a shift that starts then is not before it.</summary>
    [Theory]
    [InlineData(34 * 60, 2)]
    [InlineData(34 * 60 + 1, 6)]
    public void Notice_ends_before_the_moment_that_it_reaches(int notice, long changes) =>
        Assert.Equal(changes, Kept(Replan(notice)).Shift("tue", "cy", "22:00", "02:00").Goal(GoalId.Changes));

    /// <summary>Moved from 22:15 to 22:00 with notice to 22:10: the new shift is at short notice, the old was not.</summary>
    [Fact]
    public void Either_the_old_or_the_new_start_is_enough()
    {
        var published = Week.Plan.Shift("tue", "ana", "22:15", "02:00");
        var week = Week.Rules(new() { NoticeMinutes = 34 * 60 + 10 });
        Assert.Equal(3, week.Replan(published, "2027-03-08T12:00").Shift("tue", "ana", "22:00", "02:00").Goal(GoalId.Changes));
    }

    /// <summary>Masking moves to Wednesday: 1, and nobody's hours change.</summary>
    [Fact]
    public void A_stint_in_another_night_counts_one() =>
        Assert.Equal(1, (Kept(Replan()) with { Schedule = Published.Schedule with { Work = [] } })
            .Work("wed", "mask", "22:00", "23:00", "bo").Goal(GoalId.Changes));

    [Fact]
    public void A_stint_later_in_its_night_counts_nothing() =>
        Assert.Equal(0, (Kept(Replan()) with { Schedule = Published.Schedule with { Work = [] } })
            .Work("tue", "mask", "23:00", "00:00", "ana").Goal(GoalId.Changes));
}
