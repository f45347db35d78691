namespace SetWeek.Model.Tests;

public sealed class TinyWeekTests
{
    [Fact]
    public void A_plan_of_a_tiny_week_breaks_no_rule() =>
        Assert.Empty(TinyWeek.New.Task("mask", 60).Task("paint", 90, after: "mask").Plan
            .Shift("mon", "ana", "22:00", "02:00")
            .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:30", "01:00", "ana").BrokenRules);
}
