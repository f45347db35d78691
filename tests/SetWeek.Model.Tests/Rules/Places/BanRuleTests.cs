using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Places;

public sealed class BanRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New
        .Ban("mon", "noisy", "2027-03-09T01:00", "2027-03-09T02:00")
        .Task("drill", 60, task => task with { Traits = ["noisy"] });

    private static TinyPlan OnShift(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00");

    [Fact]
    public void Noisy_work_during_the_ban_is_caught()
    {
        var breach = OnShift(Week).Work("mon", "drill", "00:05", "01:05", "ana").SingleBreach;
        Assert.Equal((RuleId.Ban, "drill"), (breach.Rule, breach.About.Task));
        Assert.Equal(
            "“drill” is noisy and runs Tue 9 Mar 00:05 to 01:05, while noisy work is barred from Tue 9 Mar 01:00 to 02:00.",
            breach.Sentence);
    }

    [Theory]
    [InlineData("00:00", "01:00")]
    [InlineData("02:00", "03:00")]
    public void Noisy_work_that_touches_the_ban_is_allowed(string from, string to) =>
        Assert.Empty(OnShift(Week).Work("mon", "drill", from, to, "ana").BrokenRules);

    [Fact]
    public void Quiet_work_during_the_ban_is_allowed() =>
        Assert.Empty(OnShift(Week.Task("mask", 60))
            .Work("mon", "drill", "22:00", "23:00", "ana").Work("mon", "mask", "01:00", "02:00", "ana").BrokenRules);
}
