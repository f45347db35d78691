using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Form;

public sealed class PinRuleTests
{
    [Fact]
    public void Work_in_another_night_than_pinned_is_caught()
    {
        var breach = PlanWith(new StintPin("a") { Night = "tue" }).SingleBreach;
        Assert.Equal((RuleId.Pin, "a"), (breach.Rule, breach.About.Task));
        Assert.EndsWith("9 Mar, but is in Mon 8 Mar.", breach.Sentence.Replace("the night of ", ""));
    }

    [Theory]
    [InlineData("2027-03-08T22:00", true)]
    [InlineData("2027-03-08T22:05", false)]
    public void Work_starts_at_its_pinned_time(string from, bool allowed) =>
        Assert.Equal(allowed ? [] : ["pin"], PlanWith(new StintPin("a") { From = TinyWeek.Local(from) }).BrokenRules);

    [Fact]
    public void A_pinned_person_is_among_the_works_own()
    {
        Assert.Empty(PlanWith(new StintPin("a") { People = ["ana"] }).BrokenRules);
        Assert.Equal("Bo is pinned to “a”, but is not on it.", PlanWith(new StintPin("a") { People = ["bo"] }).SingleBreach.Sentence);
    }

    [Fact]
    public void A_pin_of_a_task_that_is_not_placed_binds_nothing() =>
        Assert.Empty(TinyWeek.New.Display("wall", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Task("a", 60).With(week => week with { Pins = [new StintPin("a") { Night = "tue" }] }).Plan.BrokenRules);

    [Theory]
    [InlineData(true, null, null, false)]
    [InlineData(false, null, null, true)]
    [InlineData(false, "2027-03-08T22:00", "2027-03-08T23:00", true)]
    [InlineData(false, "2027-03-08T22:15", null, false)]
    [InlineData(false, null, "2027-03-08T23:15", false)]
    public void A_shift_is_as_pinned(bool off, string? from, string? to, bool allowed) => Assert.Equal(allowed ? [] : ["pin"],
        PlanWith(new ShiftPin("ana", "mon")
        {
            Off = off, From = from is null ? null : TinyWeek.Local(from), To = to is null ? null : TinyWeek.Local(to),
        }).BrokenRules);

    [Fact]
    public void A_pinned_shift_that_is_missing_is_caught() =>
        Assert.Equal(["pin"], PlanWith(new ShiftPin("bo", "mon")).BrokenRules);

    /// <summary>Ana works from 22:00 to 23:00 on Monday.</summary>
    private static TinyPlan PlanWith(Pin pin) => TinyWeek.New.Task("a", 60).With(week => week with { Pins = [pin] }).Plan
        .Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
}
