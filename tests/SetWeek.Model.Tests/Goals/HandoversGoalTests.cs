using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class HandoversGoalTests
{
    private static readonly TinyPlan Plan = TinyWeek.New
        .Task("dress", 180, task => task with { Stints = 3, Modes = [new(180, [new("hands", 2)]), new(180, [new("hands", 1)])] })
        .Plan.Stint("mon", "dress", 1, 0, "22:00", "23:00", "ana", "bo");

    /// <summary>Monday's pair is replaced by one of them (1), then by neither (1).</summary>
    [Fact]
    public void Each_person_who_leaves_between_two_stints_of_a_night_counts() =>
        Assert.Equal(2, Plan.Stint("mon", "dress", 2, 1, "23:00", "00:00", "bo").Stint("mon", "dress", 3, 1, "03:00", "04:00", "cy")
            .Goal(GoalId.Handovers));

    [Fact]
    public void Somebody_who_joins_does_not_count() => Assert.Equal(0,
        Plan.Stint("tue", "dress", 2, 1, "23:00", "00:00", "cy").Stint("tue", "dress", 3, 0, "00:00", "01:00", "bo", "cy")
            .Goal(GoalId.Handovers));

    [Fact]
    public void Work_that_goes_on_in_another_night_is_not_handed_over() => Assert.Equal(0,
        Plan.Stint("tue", "dress", 2, 1, "22:00", "23:00", "cy").Stint("wed", "dress", 3, 1, "22:00", "23:00", "ana")
            .Goal(GoalId.Handovers));
}
