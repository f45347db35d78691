using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.People;

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
    public void Two_people_with_the_same_hours_are_allowed() =>
        Assert.Empty(Plan.Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "01:00").BrokenRules);

    [Fact]
    public void Two_people_who_relieve_each_other_beside_a_third_are_allowed() => Assert.Empty(
        Plan.Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "23:30").Shift("mon", "cy", "23:30", "01:00")
            .BrokenRules);

    [Fact]
    public void Two_shifts_one_after_the_other_are_caught() => Assert.Equal(["two-person"],
        Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "23:00", "00:00").BrokenRules);

    [Fact]
    public void Somebody_on_a_break_counts_as_present() => Assert.Empty(
        Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20").Shift("mon", "bo", "22:00", "02:00", "01:00", "01:20")
            .BrokenRules);

    [Fact]
    public void A_night_without_shifts_is_allowed() => Assert.Empty(Plan.BrokenRules);
}
