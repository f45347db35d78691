using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class OpenCloseRuleTests
{
    private static readonly TinyPlan Plan = TinyWeek.New.Rules(new() { KeyholderPresent = true, OpeningMinutes = 30,
        ClosingMinutes = 45 })
        .Task("mask", 60).Plan.Shift("mon", "ana", "22:00", "02:00").Keyholder("mon", "ana");

    [Fact]
    public void Work_before_the_shop_is_open_is_caught()
    {
        var breach = Plan.Work("mon", "mask", "22:25", "23:25", "ana").SingleBreach;
        Assert.Equal((RuleId.OpenClose, "mon", "ana"), (breach.Rule, breach.About.Night, breach.About.Person));
        Assert.Equal(
            "Ana opens at Mon 8 Mar 22:00, less than 30 min before the night's first work at Mon 8 Mar 22:25.", breach.Sentence);
    }

    [Fact]
    public void Work_too_near_to_the_lock_up_is_caught() => Assert.Equal(
        "Ana leaves at Tue 9 Mar 02:00, less than 45 min after the end of the night's last work at Tue 9 Mar 01:20.",
        Plan.Work("mon", "mask", "00:20", "01:20", "ana").SingleBreach.Sentence);

    [Theory]
    [InlineData("22:30", "23:30")]
    [InlineData("00:15", "01:15")]
    public void Work_that_leaves_just_the_time_holds(string from, string to) =>
        Assert.Empty(Plan.Work("mon", "mask", from, to, "ana").BrokenRules);

    /// <summary>Curing counts as work: somebody still has to have opened.</summary>
    [Fact]
    public void Work_without_people_counts() => Assert.Equal(["open-close"],
        TinyWeek.New.Rules(new() { KeyholderPresent = true, OpeningMinutes = 30 })
            .Task("cure", 60, task => task with { Modes = [new(60, [])] }).Plan
            .Shift("mon", "ana", "22:00", "02:00").Keyholder("mon", "ana").Work("mon", "cure", "22:00", "23:00").BrokenRules);
}
