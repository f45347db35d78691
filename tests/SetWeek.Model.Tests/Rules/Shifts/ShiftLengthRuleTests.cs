using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Shifts;

public sealed class ShiftLengthRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { MinShiftMinutes = 180, MaxShiftMinutes = 420,
        JoinMinutes = 60 });

    private static string[] Shift(TinyWeek week, string from, string to) => week.Plan.Shift("mon", "ana", from, to).BrokenRules;

    private static TinyWeek Busy(string from, string to) =>
        Week.Busy("ana", $"2027-03-08T{from}", $"2027-03-08T{to}");

    [Fact]
    public void A_shift_below_the_minimum_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "00:55").SingleBreach;
        Assert.Equal((RuleId.ShiftLength, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal("Ana's shift Mon 8 Mar 22:00 to 00:55 is 2 h 55 min, below the minimum of 3 h.", breach.Sentence);
    }

    [Fact]
    public void Shifts_of_exactly_the_minimum_and_the_maximum_are_allowed()
    {
        Assert.Empty(Shift(Week, "22:00", "01:00"));
        Assert.Empty(Shift(Week, "22:00", "05:00"));
    }

    [Fact]
    public void A_shift_above_the_maximum_is_caught() => Assert.Equal(["shift-length"], Shift(Week, "22:00", "05:05"));

    [Fact]
    public void A_person_may_have_a_lower_maximum()
    {
        var week = Week.Person("ana", ana => ana with { MaxMinutesPerNight = 240 });
        Assert.Empty(Shift(week, "22:00", "02:00"));
        Assert.Equal(["shift-length"], Shift(week, "22:00", "02:05"));
    }

    [Fact]
    public void A_person_may_have_a_maximum_number_of_nights()
    {
        var plan = Week.Person("ana", ana => ana with { MaxNights = 2 }).Plan.Shift("mon", "ana", "22:00", "02:00")
            .Shift("tue", "ana", "22:00", "02:00");
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(["shift-length"], plan.Shift("wed", "ana", "22:00", "02:00").BrokenRules);
    }

    /// <summary>
    /// Day work from 17:00 to 21:00 is 4 h. With 3 h of the night it makes 7 h, the maximum. The hour between does not count.
    /// </summary>
    [Fact]
    public void A_joined_commitment_counts_towards_the_maximum()
    {
        Assert.Empty(Shift(Busy("17:00", "21:00"), "22:00", "01:00"));
        Assert.Equal(["shift-length"], Shift(Busy("17:00", "21:00"), "22:00", "01:05"));
    }

    /// <summary>With 65 minutes between them they are two working days.</summary>
    [Fact]
    public void A_commitment_that_is_not_joined_does_not_count() => Assert.Empty(Shift(Busy("17:00", "20:55"), "22:00", "05:00"));

    [Fact]
    public void A_joined_commitment_does_not_count_towards_the_persons_own_maximum() => Assert.Empty(
        Shift(Busy("20:00", "22:00").Person("ana", ana => ana with { MaxMinutesPerNight = 240 }), "22:00", "02:00"));
}
