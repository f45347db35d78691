using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>Which kinds of option a re-plan has, in a week with a picture, its alternate, a print, and a banner.</summary>
public class OptionKindTests
{
    [Fact]
    public void The_display_whose_kit_is_late_may_be_replaced_by_its_alternate()
    {
        var option = new AlternateInstead().For(Late());
        Assert.Equal("print instead", option!.Name);
        Assert.True(option.AddsRules);
    }

    [Fact]
    public void The_want_whose_kit_is_late_is_left_out_and_not_the_least_valuable() =>
        Assert.Equal("Without picture", new WantLeftOut().For(Late())!.Name);

    [Fact]
    public void A_want_with_work_for_safety_is_not_left_out() =>
        Assert.Equal("Without banner", new WantLeftOut().For(Late(trait: "safety"))!.Name);

    [Fact]
    public void A_display_that_has_begun_is_neither_left_out_nor_replaced()
    {
        var begun = Late(begun: true);
        Assert.Null(new AlternateInstead().For(begun));
        Assert.Equal("Without banner", new WantLeftOut().For(begun)!.Name);
    }

    [Fact]
    public void One_more_night_is_offered_while_a_night_remains_after_it()
    {
        var option = new OneMoreNight().For(Late());
        // All work is published for the first of three nights. The second is added, the third stays free.
        Assert.Equal(new LocalDateTime(2027, 3, 10, 6, 0), option!.Week.Launch);
    }

    [Theory]
    [InlineData(GoalId.Cost, "leftOut cost changes hold shuffled bare finish")]
    [InlineData(GoalId.Finish, "leftOut finish changes hold shuffled bare cost")]
    public void A_goal_is_put_before_all_others_except_the_displays_left_out(GoalId goal, string order) =>
        Assert.Equal(order,
            string.Join(' ', OptionSpecification.WithGoalFirst(Late().Problem.Week, goal).ReplanGoals.Select(choice =>
                choice.Goal.Text())));

    /// <summary>All work is published for Monday. The kit that hanging needs comes on Wednesday.</summary>
    private static ReplanSituation Late(bool begun = false, string trait = "paper")
    {
        var week = TinyWeek.New.Kit("frames", "2027-03-10T12:00")
            .Display("picture", display => display with { Commitment = DisplayCommitment.Want, Value = 50,
                Alternate = new("print", 10) })
            .Display("print", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Display("banner", display => display with { Commitment = DisplayCommitment.Want, Value = 5 })
            .Task("hang", 60, task => task with { Display = "picture", Needs = [new("frames")], Traits = [trait] })
            .Task("pin", 30, task => task with { Display = "print" })
            .Task("unroll", 60, task => task with { Display = "banner" });
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "hang", "22:00", "23:00", "ana").Work("mon", "unroll", "23:30", "00:30", "ana");
        return new ReplanSituation(begun
            ? week.Replan(published, "2027-03-08T23:10",
                published.Report("mon", "hang", WorkState.Done, "22:00", "23:00")).Problem
            : week.Replan(published, "2027-03-08T12:00").Problem);
    }
}
