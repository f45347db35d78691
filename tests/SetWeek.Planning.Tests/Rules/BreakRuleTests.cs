using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class BreakRuleTests
{
    /// <summary>Eighteen minutes of break are twenty on the grid.</summary>
    private static readonly TinyPlan Plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = 240, BreakMinutes = 18 }).Plan;

    [Fact]
    public void A_long_shift_without_a_break_is_caught()
    {
        var breach = Plan.Shift("mon", "ana", "22:00", "02:05").SingleBreach;
        Assert.Equal((RuleId.Break, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal(
            "Ana's shift is 4 h 5 min long and has no break; a shift longer than 4 h needs one of 20 min.", breach.Sentence);
    }

    [Fact]
    public void A_shift_as_long_as_allowed_needs_none() => Assert.Empty(Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void A_short_shift_has_none() =>
        Assert.Equal(["break"], Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20").BrokenRules);

    [Theory]
    [InlineData("02:00", "02:20", true)] // 4 h before, 3 h 40 after
    [InlineData("02:05", "02:25", false)] // 4 h 5 before
    [InlineData("01:40", "02:00", true)] // 4 h after
    [InlineData("01:35", "01:55", false)] // 4 h 5 after
    [InlineData("01:50", "02:05", false)] // too short
    [InlineData("01:50", "02:15", false)] // too long
    [InlineData("21:00", "21:20", false)] // not in the shift
    public void No_stretch_is_longer_than_allowed(string from, string to, bool holds) =>
        Assert.Equal(holds ? [] : ["break"], Plan.Shift("mon", "ana", "22:00", "06:00", from, to).BrokenRules);

    [Theory]
    [InlineData(null, 20)]
    [InlineData(240, null)]
    public void Where_a_number_is_left_out_no_break_is_owed_and_none_is_allowed(int? after, int? minutes)
    {
        var plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = after, BreakMinutes = minutes }).Plan;
        Assert.Empty(plan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);
        Assert.Equal(["break"], plan.Shift("mon", "ana", "22:00", "06:00", "02:00", "02:20").BrokenRules);
    }
}
