using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class TwoPersonRuleTests
{
    private static readonly TinyPlan Plan = TinyWeek.New.Rules(new() { MinPeople = 2, BreakAfterMinutes = 180,
        BreakMinutes = 20 }).Plan;

    [Fact]
    public void Somebody_alone_at_the_end_is_caught()
    {
        var breach = Plan.Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "00:55").SingleBreach;
        Assert.Equal((RuleId.TwoPerson, "mon"), (breach.Rule, breach.About.Night));
        Assert.Equal("Only Ana is on shift from Tue 9 Mar 00:55 to 01:00; at least 2 people must be.", breach.Sentence);
    }

    [Fact]
    public void Two_together_hold() =>
        Assert.Empty(Plan.Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "01:00").BrokenRules);

    [Fact]
    public void One_goes_as_another_comes() => Assert.Empty(
        Plan.Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "23:30").Shift("mon", "cy", "23:30", "01:00")
            .BrokenRules);

    [Fact]
    public void Two_who_follow_each_other_are_not_two_together() => Assert.Equal(["two-person"],
        Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "23:00", "00:00").BrokenRules);

    [Fact]
    public void On_break_is_on_shift() => Assert.Empty(
        Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20").Shift("mon", "bo", "22:00", "02:00", "01:00", "01:20")
            .BrokenRules);

    [Fact]
    public void A_night_without_anybody_holds() => Assert.Empty(Plan.BrokenRules);
}
