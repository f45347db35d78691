using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Form;

public sealed class WholeRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60);

    /// <summary>The wall display has a printed panel as its alternate. Each of the two has one task.</summary>
    private static readonly TinyWeek Either = Week
        .Display("wall", display => display with { Alternate = new("panel", 30) })
        .Display("panel", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
        .Task("hang", 30, task => task with { Display = "panel", Zone = "floor" });

    private static TinyPlan OnShift(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "02:00");

    [Fact]
    public void A_must_that_is_not_built_is_caught()
    {
        var breach = OnShift(Week).SingleBreach;
        Assert.Equal((RuleId.Whole, "wall"), (breach.Rule, breach.About.Display));
        Assert.Equal("“The wall” is a must, but is not built.", breach.Sentence);
    }

    [Fact]
    public void A_want_that_is_not_built_is_allowed() =>
        Assert.Empty(OnShift(Week.Display("wall", display =>
            display with { Commitment = DisplayCommitment.Want, Value = 5 })).BrokenRules);

    [Fact]
    public void A_task_missing_from_a_display_that_is_built_is_caught() =>
        Assert.Equal(["whole"], OnShift(Week.Task("paint", 60)).Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);

    [Fact]
    public void Work_shorter_than_its_mode_is_caught() =>
        Assert.Equal(["whole"], OnShift(Week).Work("mon", "mask", "22:00", "22:55", "ana").BrokenRules);

    [Fact]
    public void Work_planned_twice_is_caught() =>
        Assert.Equal(["whole"], OnShift(Week).Work("mon", "mask", "22:00", "23:00", "ana")
            .Work("mon", "mask", "23:00", "00:00", "ana").BrokenRules);

    [Fact]
    public void A_mode_that_the_task_does_not_have_is_caught() =>
        Assert.Equal(["whole"], OnShift(Week).Stint("mon", "mask", 1, 1, "22:00", "23:00", "ana").BrokenRules);

    /// <summary>87 minutes in 2 stints are 43.5 minutes each, rounded up to 45 on the 5-minute grid.</summary>
    [Fact]
    public void A_stint_lasts_its_share_rounded_up_to_the_grid()
    {
        var week = TinyWeek.New.Task("fill", 87, task => task with { Stints = 2 });
        Assert.Empty(OnShift(week).Work("mon", "fill", "22:00", "22:45", "ana")
            .Stint("mon", "fill", 2, 0, "22:45", "23:30", "ana").BrokenRules);
        Assert.Equal(["whole"],
            OnShift(week).Work("mon", "fill", "22:00", "22:45", "ana").Stint("mon", "fill", 2, 0, "22:45", "23:25", "ana")
                .BrokenRules);
    }

    [Fact]
    public void Stints_may_differ_in_mode()
    {
        var week = TinyWeek.New.Task("fill", 80, task => task with { Stints = 2, Modes = [.. task.Modes, new(50, [new("hands",
            2)])] });
        Assert.Empty(OnShift(week).Shift("mon", "bo", "22:00", "02:00")
            .Work("mon", "fill", "22:00", "22:40", "ana").Stint("mon", "fill", 2, 1, "22:40", "23:05", "ana", "bo").BrokenRules);
    }

    [Fact]
    public void Stints_out_of_order_are_caught() =>
        Assert.Equal(["whole"], OnShift(TinyWeek.New.Task("fill", 80, task => task with { Stints = 2 }))
            .Work("mon", "fill", "22:40", "23:20", "ana").Stint("mon", "fill", 2, 0, "22:00", "22:40", "ana").BrokenRules);

    [Fact]
    public void Either_a_must_or_its_alternate_is_built_and_never_both()
    {
        Assert.Empty(OnShift(Either).Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);
        Assert.Empty(OnShift(Either).Work("mon", "hang", "22:00", "22:30", "ana").BrokenRules);
        Assert.Equal(["whole"], OnShift(Either).BrokenRules);
        Assert.Equal(["whole"],
            OnShift(Either).Work("mon", "mask", "22:00", "23:00", "ana")
                .Work("mon", "hang", "23:00", "23:30", "ana").BrokenRules);
    }

    [Fact]
    public void The_commitment_of_an_alternate_has_no_effect() =>
        Assert.Empty(OnShift(Either.Display("panel", display => display with { Commitment = DisplayCommitment.Must }))
            .Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);
}
