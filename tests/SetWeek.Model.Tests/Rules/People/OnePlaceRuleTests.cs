using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.People;

public sealed class OnePlaceRuleTests
{
    private static readonly TinyPlan Plan = TinyWeek.New.Task("mask", 60).Task("sign", 30, task => task with { Zone = "floor" })
        .Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana");

    [Fact]
    public void Somebody_in_two_places_is_caught()
    {
        var breach = Plan.Work("mon", "sign", "22:55", "23:25", "ana").SingleBreach;
        Assert.Equal((RuleId.OnePlace, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal("Ana is assigned to “sign” from Mon 8 Mar 22:55, but is at “mask” until Mon 8 Mar 23:00.", breach.Sentence);
    }

    [Fact]
    public void Work_right_after_other_work_is_allowed() => Assert.Empty(
        Plan.Work("mon", "sign", "23:00", "23:30", "ana").BrokenRules);
}
