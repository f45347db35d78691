using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.People;

public sealed class OnShiftRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60);

    [Fact]
    public void Work_past_the_end_of_the_shift_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "02:00").Work("mon", "mask", "01:05", "02:05", "ana").SingleBreach;
        Assert.Equal((RuleId.OnShift, "mask", "ana"), (breach.Rule, breach.About.Task, breach.About.Person));
        Assert.Equal(
            "Ana is assigned to “mask” Tue 9 Mar 01:05 to 02:05, outside the shift Mon 8 Mar 22:00 to 02:00.", breach.Sentence);
    }

    [Fact]
    public void Work_to_the_end_of_the_shift_is_allowed() =>
        Assert.Empty(Week.Plan.Shift("mon", "ana", "22:00", "02:00").Work("mon", "mask", "01:00", "02:00", "ana").BrokenRules);

    [Fact]
    public void Work_by_somebody_off_shift_is_caught() =>
        Assert.Equal(["on-shift"], Week.Plan.Shift("mon", "ana", "22:00", "02:00").Work("mon", "mask", "22:00", "23:00", "bo")
            .BrokenRules);

    [Fact]
    public void Work_in_a_night_other_than_the_shifts_is_caught() =>
        Assert.Equal(["on-shift"], Week.Plan.Shift("tue", "ana", "22:00", "02:00").Work("mon", "mask", "22:00", "23:00", "ana")
            .BrokenRules);

    [Fact]
    public void Work_may_touch_the_break_but_not_overlap_it()
    {
        var plan = Week.Rules(new() { BreakAfterMinutes = 180, BreakMinutes = 20 })
            .Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20");
        Assert.Equal(["on-shift"], plan.Work("mon", "mask", "23:05", "00:05", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "23:00", "00:00", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "00:20", "01:20", "ana").BrokenRules);
    }

    [Fact]
    public void Two_shifts_in_one_night_are_caught() => Assert.Equal(["on-shift"],
        Week.Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "ana", "02:00", "04:00")
            .Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);
}
