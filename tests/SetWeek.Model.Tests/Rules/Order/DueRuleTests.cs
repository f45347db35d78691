using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class DueRuleTests
{
    private static readonly TinyPlan Plan = TinyWeek.New.Task("window", 60, task => task with { Stints = 2, Due = "mon" }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
            .Work("mon", "window", "22:00", "22:30", "ana");

    [Fact]
    public void A_last_stint_after_the_due_night_is_caught()
    {
        var breach = Plan.Stint("tue", "window", 2, 0, "22:00", "22:30", "ana").SingleBreach;
        Assert.Equal((RuleId.Due, "window", 2), (breach.Rule, breach.About.Task, breach.About.Stint));
        Assert.Equal("“window”, part 2 of 2, ends Tue 9 Mar 22:30, after it is due at Tue 9 Mar 06:00.", breach.Sentence);
    }

    [Fact]
    public void A_last_stint_that_ends_as_the_due_night_closes_is_allowed() =>
        Assert.Empty(Plan.Stint("mon", "window", 2, 0, "05:30", "06:00", "ana").BrokenRules);
}
