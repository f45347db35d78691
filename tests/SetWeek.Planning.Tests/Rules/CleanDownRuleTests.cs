using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class CleanDownRuleTests
{
    /// <summary>Eight minutes of clean-down are ten on the grid.</summary>
    private static readonly TinyWeek Week = TinyWeek.New.CleanDown("wall", 8).Task("mask", 60);

    private static TinyPlan Masked(TinyWeek week) =>
        week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "mask", "22:00", "23:00", "ana");

    [Fact]
    public void A_zone_left_dirty_is_caught()
    {
        var breach = Masked(Week).SingleBreach;
        Assert.Equal((RuleId.CleanDown, "mon", "wall"), (breach.Rule, breach.About.Night, breach.About.Zone));
        Assert.Equal("Wall is worked in during the night of Mon 8 Mar, but has no clean-down.", breach.Sentence);
    }

    [Fact]
    public void A_clean_down_right_after_the_work_and_one_right_before_closes_hold()
    {
        Assert.Empty(Masked(Week).CleanDown("mon", "wall", "23:00", "23:10", "ana").BrokenRules);
        Assert.Empty(Masked(Week).CleanDown("mon", "wall", "05:50", "06:00", "ana").BrokenRules);
    }

    [Fact]
    public void A_clean_down_before_the_work_is_over_is_caught() =>
        Assert.Equal(["clean-down"], Masked(Week).CleanDown("mon", "wall", "22:55", "23:05", "bo").BrokenRules);

    [Fact]
    public void A_second_clean_down_is_caught() => Assert.Equal(["clean-down"],
        Masked(Week).CleanDown("mon", "wall", "23:00", "23:10", "ana").CleanDown("mon", "wall", "23:10", "23:20", "ana").BrokenRules);

    [Fact]
    public void A_clean_down_of_another_length_is_caught() =>
        Assert.Equal(["clean-down"], Masked(Week).CleanDown("mon", "wall", "23:00", "23:15", "ana").BrokenRules);

    [Fact]
    public void A_clean_down_in_a_night_without_work_there_is_caught() => Assert.Equal(["clean-down"],
        Masked(Week).CleanDown("mon", "wall", "23:00", "23:10", "ana").Shift("tue", "ana", "22:00", "06:00")
            .CleanDown("tue", "wall", "23:00", "23:10", "ana").BrokenRules);

    [Fact]
    public void A_clean_down_of_a_zone_that_defines_none_is_caught() =>
        Assert.Contains("clean-down", Masked(TinyWeek.New.Task("mask", 60))
            .CleanDown("mon", "wall", "23:00", "23:10", "ana:hands").BrokenRules);

    /// <summary>Curing is work like any other; the final clean is not followed by a clean-down.</summary>
    [Fact]
    public void Work_without_people_asks_for_one_and_the_last_task_does_not()
    {
        var cure = TinyWeek.New.CleanDown("wall", 8)
            .Task("cure", 60, task => task with { Modes = [new(60, [])] });
        Assert.Equal(["clean-down"], cure.Plan.Work("mon", "cure", "22:00", "23:00").BrokenRules);
        var final = TinyWeek.New.CleanDown("wall", 8)
            .Task("final", 60, task => task with { Last = true });
        Assert.Empty(final.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "final", "22:00", "23:00", "ana").BrokenRules);
    }
}
