using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Places;

public sealed class ZoneClosedRuleTests
{
    /// <summary>Varnish closes the wall's zone for an hour after its second stint.</summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Task("varnish", 60, task => task with { Stints = 2, ClosesZoneMinutes = 60 }).Task("sign", 30);

    private static TinyPlan Varnished(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "varnish", "22:00", "22:30", "ana").Stint("mon", "varnish", 2, 0, "23:00", "23:30", "ana");

    [Fact]
    public void Work_in_a_closed_zone_is_caught()
    {
        var breach = Varnished(Week).Work("mon", "sign", "00:25", "00:55", "bo").SingleBreach;
        Assert.Equal((RuleId.ZoneClosed, "wall", "sign"), (breach.Rule, breach.About.Zone, breach.About.Task));
        Assert.Equal("“sign” runs Tue 9 Mar 00:25 to 00:55 in Wall, which “varnish” closes until Tue 9 Mar 00:30.", breach.Sentence);
    }

    [Theory]
    [InlineData("00:30", "01:00")] // as the zone opens again
    [InlineData("22:30", "23:00")] // the zone is open between the stints
    [InlineData("23:00", "23:30")] // during the last stint
    public void Work_outside_the_closed_time_is_allowed(string from, string to) =>
        Assert.Empty(Varnished(Week).Work("mon", "sign", from, to, "bo").BrokenRules);

    [Fact]
    public void A_clean_down_in_a_closed_zone_is_caught()
    {
        var plan = Varnished(TinyWeek.New.CleanDown("wall", 10)
            .Task("varnish", 60, task => task with { Stints = 2, ClosesZoneMinutes = 60 }));
        Assert.Equal(["zone-closed"], plan.CleanDown("mon", "wall", "00:20", "00:30", "bo").BrokenRules);
        Assert.Empty(plan.CleanDown("mon", "wall", "00:30", "00:40", "bo").BrokenRules);
    }
}
