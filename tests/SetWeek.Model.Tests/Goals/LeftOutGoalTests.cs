using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class LeftOutGoalTests
{
    /// <summary>
    /// A must whose alternate has value 36, a want of value 25, and a want of value 22 whose alternate has value 9.
    /// </summary>
    private static readonly TinyPlan Plan = TinyWeek.New
        .Display("wall", display => display with { Alternate = new("panel", 36) })
        .Display("panel", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
        .Display("shelf", display => display with { Commitment = DisplayCommitment.Want, Value = 25 })
        .Display("forms", display => display with { Commitment = DisplayCommitment.Want, Value = 22,
            Alternate = new("busts", 9) })
        .Display("busts", display => display with { Commitment = DisplayCommitment.Want, Value = 100 })
        .Task("wall", 30).Task("panel", 30, Of("panel")).Task("shelf", 30, Of("shelf")).Task("forms", 30, Of("forms"))
            .Task("busts", 30, Of("busts")).Plan;

    private static Func<WeekTask, WeekTask> Of(string display) => task => task with { Display = display };

    private static long Built(params string[] tasks) =>
        tasks.Aggregate(Plan, (plan, task) => plan.Work("mon", task, "22:00", "22:30", "ana")).Goal(GoalId.LeftOut);

    [Fact]
    public void A_plan_with_every_display_has_value_zero() => Assert.Equal(0, Built("wall", "shelf", "forms"));

    [Fact]
    public void A_want_left_out_counts_its_value() => Assert.Equal(25, Built("wall", "forms"));

    /// <summary>
    /// The alternate's value counts, 9 and not 22. The value 100 of the busts as a display of their own never counts.
    /// </summary>
    [Fact]
    public void A_want_replaced_by_its_alternate_counts_the_alternates_value() =>
        Assert.Equal(9, Built("wall", "shelf", "busts"));

    [Fact]
    public void A_must_replaced_by_its_alternate_counts_the_alternates_value() =>
        Assert.Equal(36, Built("panel", "shelf", "forms"));

    /// <summary>36 for the panel, 25 for the shelf, 22 for the forms, which are neither built nor replaced.</summary>
    [Fact]
    public void The_values_of_several_displays_are_added() => Assert.Equal(83, Built("panel"));
}
