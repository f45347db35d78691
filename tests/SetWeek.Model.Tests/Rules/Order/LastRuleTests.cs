using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class LastRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.CleanDown("wall", 10)
        .Task("mask", 60).Task("final", 60, task => task with { Zone = "floor", Last = true });

    private static readonly TinyPlan Cleaned = Week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "mask", "22:00", "23:00", "ana").CleanDown("mon", "wall", "23:00", "23:10", "ana");

    [Fact]
    public void A_final_clean_before_a_clean_down_has_ended_is_caught()
    {
        var breach = Cleaned.Work("mon", "final", "23:05", "00:05", "bo").SingleBreach;
        Assert.Equal((RuleId.Last, "wall"), (breach.Rule, breach.About.Zone));
        Assert.Equal(
            "“final” starts Mon 8 Mar 23:05 and comes last, but Clean-down of Wall ends Mon 8 Mar 23:10.", breach.Sentence);
    }

    [Fact]
    public void A_final_clean_right_after_the_last_clean_down_is_allowed() =>
        Assert.Empty(Cleaned.Work("mon", "final", "23:10", "00:10", "bo").BrokenRules);
}
