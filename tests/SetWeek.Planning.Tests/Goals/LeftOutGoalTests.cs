using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Goals;

public sealed class LeftOutGoalTests
{
    /// <summary>A must with an alternate of 36, a want of 25, and a want of 22 with an alternate of 9.</summary>
    private static readonly TinyPlan Plan = TinyWeek.New
        .Display("wall", display => display with { Alternate = new("panel", 36) })
        .Display("panel", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
        .Display("shelf", display => display with { Commitment = DisplayCommitment.Want, Value = 25 })
        .Display("forms", display => display with { Commitment = DisplayCommitment.Want, Value = 22, Alternate = new("busts", 9) })
        .Display("busts", display => display with { Commitment = DisplayCommitment.Want, Value = 100 })
        .Task("wall", 30).Task("panel", 30, Of("panel")).Task("shelf", 30, Of("shelf")).Task("forms", 30, Of("forms"))
            .Task("busts", 30, Of("busts")).Plan;

    private static Func<WeekTask, WeekTask> Of(string display) => task => task with { Display = display };

    private static long Built(params string[] tasks) =>
        tasks.Aggregate(Plan, (plan, task) => plan.Work("mon", task, "22:00", "22:30", "ana")).Goal(GoalId.LeftOut);

    [Fact]
    public void Everything_built_leaves_nothing_out() => Assert.Equal(0, Built("wall", "shelf", "forms"));

    [Fact]
    public void A_want_left_out_counts_its_value() => Assert.Equal(25, Built("wall", "forms"));

    /// <summary>The alternate's value instead of the display's own: 9, not 22; busts' own 100 never counts.</summary>
    [Fact]
    public void A_want_replaced_counts_the_value_of_its_alternate() => Assert.Equal(9, Built("wall", "shelf", "busts"));

    [Fact]
    public void A_must_replaced_counts_too() => Assert.Equal(36, Built("panel", "shelf", "forms"));

    /// <summary>36 for the panel, 25 for the shelf, 22 for forms that are neither built nor replaced.</summary>
    [Fact]
    public void They_add_up() => Assert.Equal(83, Built("panel"));
}
