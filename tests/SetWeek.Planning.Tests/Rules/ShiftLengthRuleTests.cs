using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class ShiftLengthRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { MinShiftMinutes = 180, MaxShiftMinutes = 420,
        JoinMinutes = 60 });

    private static string[] Shift(TinyWeek week, string from, string to) => week.Plan.Shift("mon", "ana", from, to).BrokenRules;

    private static TinyWeek Busy(string from, string to) =>
        Week.Busy("ana", $"2027-03-08T{from}", $"2027-03-08T{to}");

    [Fact]
    public void A_shift_under_the_least_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "00:55").SingleBreach;
        Assert.Equal((RuleId.ShiftLength, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal("Ana's shift Mon 8 Mar 22:00 to 00:55 is 2 h 55 min, below the minimum of 3 h.", breach.Sentence);
    }

    [Fact]
    public void The_least_and_the_most_hold()
    {
        Assert.Empty(Shift(Week, "22:00", "01:00"));
        Assert.Empty(Shift(Week, "22:00", "05:00"));
    }

    [Fact]
    public void A_shift_over_the_most_is_caught() => Assert.Equal(["shift-length"], Shift(Week, "22:00", "05:05"));

    [Fact]
    public void A_persons_own_most_is_kept()
    {
        var week = Week.Person("ana", ana => ana with { MaxMinutesPerNight = 240 });
        Assert.Empty(Shift(week, "22:00", "02:00"));
        Assert.Equal(["shift-length"], Shift(week, "22:00", "02:05"));
    }

    [Fact]
    public void A_persons_most_nights_are_kept()
    {
        var plan = Week.Person("ana", ana => ana with { MaxNights = 2 }).Plan.Shift("mon", "ana", "22:00", "02:00")
            .Shift("tue", "ana", "22:00", "02:00");
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(["shift-length"], plan.Shift("wed", "ana", "22:00", "02:00").BrokenRules);
    }

    /// <summary>
    /// Day work 17:00 to 21:00 is 4 h; with it, 3 h of the night make 7 h, the most. The hour between is not counted.
    /// </summary>
    [Fact]
    public void A_joined_commitment_counts_towards_the_most()
    {
        Assert.Empty(Shift(Busy("17:00", "21:00"), "22:00", "01:00"));
        Assert.Equal(["shift-length"], Shift(Busy("17:00", "21:00"), "22:00", "01:05"));
    }

    /// <summary>A minute more between them and they are two working days.</summary>
    [Fact]
    public void A_commitment_that_ended_earlier_does_not_count() => Assert.Empty(Shift(Busy("17:00", "20:55"), "22:00", "05:00"));

    [Fact]
    public void It_does_not_count_towards_the_persons_own_most() => Assert.Empty(
        Shift(Busy("20:00", "22:00").Person("ana", ana => ana with { MaxMinutesPerNight = 240 }), "22:00", "02:00"));
}
