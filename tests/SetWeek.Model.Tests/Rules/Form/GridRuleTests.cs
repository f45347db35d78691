using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Form;

public sealed class GridRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { ShiftGridMinutes = 15 }).Task("mask", 60);

    [Fact]
    public void Work_that_starts_between_two_slots_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "02:00").Work("mon", "mask", "22:02", "23:02", "ana").SingleBreach;
        Assert.Equal(RuleId.Grid, breach.Rule);
        Assert.Equal(new RuleSubject { Night = "mon", Task = "mask", Stint = 1 }, breach.About);
        Assert.Equal("“mask” runs Mon 8 Mar 22:02 to 23:02, off the 5-minute grid.", breach.Sentence);
    }

    [Fact]
    public void A_shift_on_the_grid_of_work_but_not_on_its_own_is_caught() =>
        Assert.Equal(["grid"], Week.Plan.Shift("mon", "ana", "22:05", "02:00").Work("mon", "mask", "22:05", "23:05", "ana")
            .BrokenRules);

    [Fact]
    public void Work_may_start_off_the_shift_grid() =>
        Assert.Empty(Week.Plan.Shift("mon", "ana", "22:15", "02:00").Work("mon", "mask", "22:20", "23:20", "ana").BrokenRules);

    [Fact]
    public void A_break_off_the_grid_is_caught() =>
        Assert.Equal(["grid"], Week.Rules(new() { BreakAfterMinutes = 180, BreakMinutes = 20 }).Plan
            .Shift("mon", "ana", "22:00", "02:00", "00:01", "00:21").Work("mon", "mask", "22:00", "23:00", "ana").BrokenRules);

    /// <summary>The night opens at 22:02. Slots count from there: 22:07 is a slot, 22:05 is not.</summary>
    [Fact]
    public void Slots_count_from_the_opening_of_the_night()
    {
        var week = Week.Rules(new()).Night("mon", night => night with { Opens = TinyWeek.Local("2027-03-08T22:02") });
        Assert.Empty(week.Plan.Shift("mon", "ana", "22:02", "02:02").Work("mon", "mask", "22:07", "23:07", "ana").BrokenRules);
        Assert.Equal(["grid"], week.Plan.Shift("mon", "ana", "22:02", "02:02").Work("mon", "mask", "22:05", "23:05", "ana")
            .BrokenRules);
    }

    /// <summary>A shift grid of 8 minutes and a work grid of 5 coincide every 40 minutes.</summary>
    [Fact]
    public void A_shift_starts_on_both_grids()
    {
        var week = Week.Rules(new() { ShiftGridMinutes = 8 });
        Assert.Empty(week.Plan.Shift("mon", "ana", "22:40", "02:00").Work("mon", "mask", "22:40", "23:40", "ana").BrokenRules);
        Assert.Equal(["grid"], week.Plan.Shift("mon", "ana", "22:08", "02:00").Work("mon", "mask", "22:10", "23:10", "ana")
            .BrokenRules);
    }
}
