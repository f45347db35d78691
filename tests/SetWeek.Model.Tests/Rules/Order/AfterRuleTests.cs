using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class AfterRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60).Task("paint", 60, after: "mask");

    private static TinyPlan Both(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00");

    [Fact]
    public void Work_that_starts_before_its_predecessor_ends_is_caught()
    {
        var breach = Both(Week).Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "22:55", "23:55", "bo")
            .SingleBreach;
        Assert.Equal((RuleId.After, "paint"), (breach.Rule, breach.About.Task));
        Assert.Equal("“paint” starts Mon 8 Mar 22:55, before “mask” ends Mon 8 Mar 23:00.", breach.Sentence);
    }

    [Fact]
    public void Work_that_starts_when_its_predecessor_ends_is_allowed() =>
        Assert.Empty(Both(Week).Work("mon", "mask", "22:00", "23:00", "ana")
            .Work("mon", "paint", "23:00", "00:00", "bo").BrokenRules);

    [Fact]
    public void Work_waits_for_the_last_stint_of_its_predecessor()
    {
        var week = TinyWeek.New.Task("mask", 60, task => task with { Stints = 2 }).Task("paint", 60, after: "mask");
        var plan = Both(week).Work("mon", "mask", "22:00", "22:30", "ana").Stint("mon", "mask", 2, 0, "23:00", "23:30", "ana");
        Assert.Equal(["after"], plan.Work("mon", "paint", "22:30", "23:30", "bo").BrokenRules);
        Assert.Empty(plan.Work("mon", "paint", "23:30", "00:30", "bo").BrokenRules);
    }

    /// <summary>
    /// The chain is mask, print, paint, and print is a want. With print left out, paint need not wait for mask.
    /// </summary>
    [Fact]
    public void A_task_left_out_imposes_no_precedence_not_even_a_transitive_one()
    {
        var week = TinyWeek.New.Display("print", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Task("mask", 60)
            .Task("print", 60, task => task with { Display = "print", After = [new("mask")] })
            .Task("paint", 60, after: "print");
        Assert.Empty(Both(week).Work("mon", "paint", "22:00", "23:00", "bo")
            .Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);
    }
}
