using SetWeek.Model.Goals;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class BareGoalTests
{
    /// <summary>
    /// Nights close at 06:00. The wall sells 500 a day. It is emptied in two stints, then filled. The floor sells nothing.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New.Zone("wall", wall => wall with { TradePerDay = 500 })
        .Task("strip", 120, task => task with { Stints = 2, Empties = true })
        .Task("hang", 60, task => task with { After = [new("strip")], Fills = true });

    private static readonly TinyPlan Stripped = Week.Plan.Stint("mon", "strip", 1, 0, "22:00", "23:00", "ana");

    private static TinyPlan Filled(string night, string from, string to) => Stripped
        .Stint(night, "strip", 2, 0, "22:00", "23:00", "bo").Work(night, "hang", from, to, "ana");

    [Theory]
    [InlineData("mon", 0)]
    [InlineData("tue", 500)]
    [InlineData("wed", 1000)]
    public void A_zone_is_bare_from_the_first_stint_that_empties_it_to_the_end_of_its_filling(string night, long bare) =>
        Assert.Equal(bare, Filled(night, "23:00", "00:00").Goal(GoalId.Bare));

    [Theory]
    [InlineData("05:00", "06:00", 500)]
    [InlineData("05:05", "06:05", 1000)]
    public void Work_that_ends_at_closes_has_ended_by_then(string from, string to, long bare) =>
        Assert.Equal(bare, Filled("tue", from, to).Goal(GoalId.Bare));

    [Fact]
    public void Filling_that_is_not_planned_leaves_the_zone_bare_to_the_end() =>
        Assert.Equal(1500, Stripped.Goal(GoalId.Bare));

    [Fact]
    public void A_zone_with_two_fillings_is_bare_until_both_have_ended() =>
        Assert.Equal(1000, (Filled("tue", "23:00", "00:00") with
        {
            Problem = Week.Task("price", 30, task => task with { Fills = true }).Problem,
        }).Work("wed", "price", "22:00", "22:30", "bo").Goal(GoalId.Bare));

    [Fact]
    public void A_zone_that_nothing_fills_is_never_bare() => Assert.Equal(0,
        TinyWeek.New.Zone("wall", wall => wall with { TradePerDay = 500 })
            .Task("strip", 60, task => task with { Empties = true }).Plan.Work("mon", "strip", "22:00", "23:00", "ana")
            .Goal(GoalId.Bare));

    /// <summary>The filling belongs to a want that is left out, so nothing comes for the zone to wait for.</summary>
    [Fact]
    public void A_filling_of_a_display_left_out_does_not_count() => Assert.Equal(0,
        TinyWeek.New.Zone("wall", wall => wall with { TradePerDay = 500 })
            .Display("extra", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Task("strip", 60, task => task with { Empties = true })
            .Task("hang", 60, task => task with { Display = "extra", Fills = true })
            .Plan.Work("mon", "strip", "22:00", "23:00", "ana").Goal(GoalId.Bare));

    [Fact]
    public void The_bare_zones_of_each_night_are_named()
    {
        var plan = Filled("wed", "23:00", "00:00");
        Assert.Equal([new BareZone(0, 0), new BareZone(1, 0)], BareZones.Of(plan.Problem, plan.Schedule));
    }
}
