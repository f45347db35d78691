using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.People;

public sealed class AvailabilityRuleTests
{
    private static TinyWeek Ana(params Availability[] available) =>
        TinyWeek.New.Display("wall", display => display).Person("ana", ana => ana with { Available = available });

    private static Availability Mon(string? from = null, string? to = null) =>
        new("mon", from is null ? null : TinyWeek.Local(from), to is null ? null : TinyWeek.Local(to));

    [Fact]
    public void A_shift_past_the_available_time_is_caught()
    {
        var breach = Ana(Mon(to: "2027-03-09T02:00")).Plan.Shift("mon", "ana", "22:00", "02:15").SingleBreach;
        Assert.Equal((RuleId.Availability, "mon", "ana"), (breach.Rule, breach.About.Night, breach.About.Person));
        Assert.Equal("Ana's shift Mon 8 Mar 22:00 to 02:15 is outside the available times: Mon 8 Mar 22:00 to 02:00.",
            breach.Sentence);
    }

    [Fact]
    public void A_shift_that_fills_the_available_time_is_allowed() =>
        Assert.Empty(Ana(Mon("2027-03-08T23:00", "2027-03-09T02:00")).Plan.Shift("mon", "ana", "23:00", "02:00").BrokenRules);

    [Fact]
    public void An_entry_without_times_covers_the_whole_night() =>
        Assert.Empty(Ana(Mon()).Plan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);

    [Fact]
    public void A_shift_in_a_night_without_an_entry_is_caught() =>
        Assert.Equal(["availability"], Ana(Mon()).Plan.Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void One_entry_must_contain_the_shift_and_two_together_do_not() => Assert.Equal(["availability"],
        Ana(Mon(to: "2027-03-09T00:00"), Mon("2027-03-09T00:00")).Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void A_shift_may_touch_a_commitment_but_not_overlap_it()
    {
        var week = Ana(Mon()).Busy("ana", "2027-03-09T02:00", "2027-03-09T03:00");
        Assert.Equal(["availability"], week.Plan.Shift("mon", "ana", "22:00", "02:15").BrokenRules);
        Assert.Empty(week.Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);
    }
}
