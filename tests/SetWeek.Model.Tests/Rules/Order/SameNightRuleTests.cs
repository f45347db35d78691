using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class SameNightRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("pose", 60).Task("secure", 30, after: "pose", sameNight: true);

    private static TinyPlan Posed(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("tue", "ana", "22:00", "06:00")
        .Work("mon", "pose", "22:00", "23:00", "ana");

    [Fact]
    public void A_successor_in_the_next_night_is_caught()
    {
        var breach = Posed(Week).Work("tue", "secure", "22:00", "22:30", "ana").SingleBreach;
        Assert.Equal((RuleId.SameNight, "secure"), (breach.Rule, breach.About.Task));
        Assert.Equal(
            "“secure” is in the night of Tue 9 Mar; it must be in the night of Mon 8 Mar, the same night as “pose”.",
            breach.Sentence);
    }

    [Fact]
    public void A_successor_later_in_the_night_is_allowed() =>
        Assert.Empty(Posed(Week).Work("mon", "secure", "05:30", "06:00", "ana").BrokenRules);

    /// <summary>The rule binds every stint of the successor, not only the first.</summary>
    [Fact]
    public void A_second_stint_of_the_successor_in_the_next_night_is_caught() =>
        Assert.Equal(["same-night"], Posed(TinyWeek.New.Task("pose", 60)
                .Task("secure", 60, task => task with { Stints = 2, After = [new("pose") { SameNight = true }] }))
            .Work("mon", "secure", "23:00", "23:30", "ana").Stint("tue", "secure", 2, 0, "22:00", "22:30", "ana").BrokenRules);
}
