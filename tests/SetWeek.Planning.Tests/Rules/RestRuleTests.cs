using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class RestRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { MinRestMinutes = 17 * 60, JoinMinutes = 60 });

    private static TinyWeek Busy(string from, string to) =>
        Week.Busy("ana", from, to);

    [Fact]
    public void Too_little_rest_between_two_shifts_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "05:05").Shift("tue", "ana", "22:00", "02:00").SingleBreach;
        Assert.Equal((RuleId.Rest, "tue", "ana"), (breach.Rule, breach.About.Night, breach.About.Person));
        Assert.Equal(
            "Ana has 16 h 55 min of rest between the shift that ends Tue 9 Mar 05:05 and the one that starts Tue 9 Mar 22:00; "
            + "at least 17 h are required.",
            breach.Sentence);
    }

    [Fact]
    public void Exactly_the_least_rest_holds() =>
        Assert.Empty(Week.Plan.Shift("mon", "ana", "22:00", "05:00").Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    [Theory]
    [InlineData("05:00", true)]
    [InlineData("05:05", false)]
    public void Rest_before_a_commitment_counts(string to, bool holds) => Assert.Equal(holds ? [] : ["rest"],
        Busy("2027-03-09T22:00", "2027-03-09T23:00").Plan.Shift("mon", "ana", "22:00", to).BrokenRules);

    [Theory]
    [InlineData("2027-03-08T05:00", "2027-03-08T06:00", true)] // 17 h before a shift at 23:00
    [InlineData("2027-03-08T05:00", "2027-03-08T06:05", false)]
    [InlineData("2027-03-08T19:00", "2027-03-08T21:55", false)] // an hour and five before: neither rest nor joined
    [InlineData("2027-03-08T19:00", "2027-03-08T22:00", true)] // an hour before: one working day
    [InlineData("2027-03-08T19:00", "2027-03-08T23:00", true)] // right before
    public void Rest_after_a_commitment_counts_unless_it_is_joined(string from, string to, bool holds) =>
        Assert.Equal(holds ? [] : ["rest"], Busy(from, to).Plan.Shift("mon", "ana", "23:00", "02:00").BrokenRules);

    /// <summary>
    /// Tuesday's day work from 19:00 is joined to Tuesday's shift from 22:00; between Monday's shift and that working day
    /// there are 14 h, though 17 h lie between the shifts.
    /// </summary>
    [Fact]
    public void Rest_before_a_joined_day_counts_to_its_start() => Assert.Equal(["rest"],
        Busy("2027-03-09T19:00", "2027-03-09T21:30").Plan.Shift("mon", "ana", "22:00", "05:00")
            .Shift("tue", "ana", "22:00", "02:00").BrokenRules);

    [Theory]
    [InlineData("05:00", true)]
    [InlineData("05:05", false)]
    public void Rest_after_a_joined_day_counts_from_its_end(string to, bool holds) => Assert.Equal(holds ? [] : ["rest"],
        Busy("2027-03-08T19:00", "2027-03-08T21:30").Plan.Shift("mon", "ana", "22:00", to).Shift("tue", "ana", "22:00", "02:00")
            .BrokenRules);

    [Fact]
    public void Where_nothing_joins_a_commitment_right_before_is_too_near() => Assert.Equal(["rest"],
        Busy("2027-03-08T19:00", "2027-03-08T22:00").Rules(new() { MinRestMinutes = 17 * 60 })
            .Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);
}
