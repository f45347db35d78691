using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class ShuffledGoalTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60)
        .Task("paint", 60, task => task with { Modes = [new(60, [new("hands", 2)])] });

    private static readonly TinyPlan Published = Week.Plan.Work("mon", "mask", "22:00", "23:00", "ana")
        .Work("tue", "paint", "23:00", "00:00", "ana", "bo");

    private static TinyPlan Replan(params ProgressReport[] progress) => Week.Replan(Published, "2027-03-08T22:30", progress)
        .Work("mon", "mask", "22:30", "23:30", "ana");

    [Theory]
    [InlineData("tue", "22:30", "23:30", 0)]
    [InlineData("tue", "23:30", "00:30", 0)]
    [InlineData("tue", "22:25", "23:25", 1)]
    [InlineData("tue", "23:35", "00:35", 1)]
    [InlineData("wed", "23:35", "00:35", 0)]
    public void A_start_moved_by_more_than_half_an_hour_within_its_night_counts_one(
        string night, string from, string to, long shuffled) =>
        Assert.Equal(shuffled, Replan().Work(night, "paint", from, to, "bo", "ana").Goal(GoalId.Shuffled));

    [Theory]
    [InlineData("ana", "cy")]
    [InlineData("cy", "bo")]
    public void Other_people_count_one_also_at_another_time(string first, string second)
    {
        Assert.Equal(1, Replan().Work("tue", "paint", "23:00", "00:00", first, second).Goal(GoalId.Shuffled));
        Assert.Equal(1, Replan().Work("tue", "paint", "01:00", "02:00", first, second).Goal(GoalId.Shuffled));
    }

    /// <summary>Masking began late, was blocked and goes on with Cy, or failed its check and is done again by him.</summary>
    [Theory]
    [InlineData(WorkState.Blocked)]
    [InlineData(WorkState.Reopened)]
    public void Work_that_has_begun_does_not_count(WorkState state)
    {
        var report = Published.Report("mon", "mask", state, from: "22:05");
        var plan = Week.Replan(Published, "2027-03-08T22:30", report).Work("mon", "mask", "02:00", "03:00", "cy");
        Assert.Equal(0, plan.Goal(GoalId.Shuffled));
    }

    [Fact]
    public void Work_that_did_not_begin_in_time_counts_once_it_is_late_enough() =>
        Assert.Equal(1, Week.Replan(Published, "2027-03-08T22:30").Work("mon", "mask", "22:35", "23:35", "ana")
            .Goal(GoalId.Shuffled));

    [Fact]
    public void The_published_plan_and_a_first_plan_have_none()
    {
        Assert.Equal(0, (Replan() with { Schedule = Published.Schedule }).Goal(GoalId.Shuffled));
        Assert.Equal(0, Published.Goal(GoalId.Shuffled));
    }
}
