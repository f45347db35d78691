using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Rules;

public sealed class AvailabilityRuleTests
{
    private static TinyWeek Ana(params Availability[] available) =>
        TinyWeek.New.Display("wall", display => display).Person("ana", ana => ana with { Available = available });

    private static Availability Mon(string? from = null, string? to = null) =>
        new("mon", from is null ? null : TinyWeek.Local(from), to is null ? null : TinyWeek.Local(to));

    [Fact]
    public void A_shift_longer_than_somebody_is_there_is_caught()
    {
        var breach = Ana(Mon(to: "2027-03-09T02:00")).Plan.Shift("mon", "ana", "22:00", "02:15").SingleBreach;
        Assert.Equal((RuleId.Availability, "mon", "ana"), (breach.Rule, breach.About.Night, breach.About.Person));
        Assert.Equal("Ana's shift Mon 8 Mar 22:00 to 02:15 is outside the available times: Mon 8 Mar 22:00 to 02:00.",
            breach.Sentence);
    }

    [Fact]
    public void A_shift_that_fills_the_entry_holds() =>
        Assert.Empty(Ana(Mon("2027-03-08T23:00", "2027-03-09T02:00")).Plan.Shift("mon", "ana", "23:00", "02:00").BrokenRules);

    [Fact]
    public void The_whole_night_is_the_default() => Assert.Empty(Ana(Mon()).Plan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);

    [Fact]
    public void A_night_without_an_entry_is_caught() =>
        Assert.Equal(["availability"], Ana(Mon()).Plan.Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void One_entry_holds_the_shift_not_two_together() => Assert.Equal(["availability"],
        Ana(Mon(to: "2027-03-09T00:00"), Mon("2027-03-09T00:00")).Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void A_commitment_in_the_shift_is_caught_and_one_beside_it_is_not()
    {
        var week = Ana(Mon()).Busy("ana", "2027-03-09T02:00", "2027-03-09T03:00");
        Assert.Equal(["availability"], week.Plan.Shift("mon", "ana", "22:00", "02:15").BrokenRules);
        Assert.Empty(week.Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);
    }
}
