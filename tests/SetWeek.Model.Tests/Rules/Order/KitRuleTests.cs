using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class KitRuleTests
{
    /// <summary>The sign task needs two signs of its kit.</summary>
    private static TinyWeek Signs(string? eta, params KitLine[] lines) => TinyWeek.New.Kit("signs", eta, lines)
        .Task("sign", 30, task => task with { Needs = [new("signs") { Item = "sign", Count = 2 }] });

    private static string[] BrokenRulesAt(TinyWeek week, string from, string to) =>
        week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "sign", from, to, "ana").BrokenRules;

    [Fact]
    public void Work_before_its_kit_arrives_is_caught()
    {
        var breach = Signs("2027-03-08T23:00").Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "sign", "22:55", "23:25", "ana").SingleBreach;
        Assert.Equal((RuleId.Kit, "sign", "signs"), (breach.Rule, breach.About.Task, breach.About.Kit));
        Assert.Equal("“sign” starts Mon 8 Mar 22:55, before “signs” arrives at Mon 8 Mar 23:00.", breach.Sentence);
    }

    [Fact]
    public void Work_that_starts_when_its_kit_arrives_is_allowed() =>
        Assert.Empty(BrokenRulesAt(Signs("2027-03-08T23:00"), "23:00", "23:30"));

    [Fact]
    public void A_kit_without_an_arrival_time_bars_its_work() =>
        Assert.Equal(["kit"], BrokenRulesAt(Signs(null), "05:00", "05:30"));

    [Theory]
    [InlineData(null, null, false, true)] // not counted: assumed complete
    [InlineData(2, null, false, true)]
    [InlineData(1, null, false, false)]
    [InlineData(3, 1, false, true)]
    [InlineData(3, 2, false, false)]
    [InlineData(0, null, true, true)] // settled: work goes on with what arrived
    public void A_counted_line_needs_enough_good_pieces(int? received, int? damaged, bool settled, bool allowed) =>
        Assert.Equal(allowed ? [] : ["kit"], BrokenRulesAt(Signs("2027-03-01T09:00",
            new KitLine("sign", 2) { Received = received, Damaged = damaged, Settled = settled }), "22:00", "22:30"));

    /// <summary>Two signs arrived. The task needs two, and a want that is left out needs one more: three in all.</summary>
    [Fact]
    public void Tasks_left_out_count_in_the_demand_for_a_line() =>
        Assert.Equal(["kit"], BrokenRulesAt(Signs("2027-03-01T09:00", new KitLine("sign", 3) { Received = 2 })
            .Display("extra", display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
            .Task("spare", 30, task => task with { Display = "extra", Needs = [new("signs") { Item = "sign" }] }), "22:00",
                "22:30"));

    [Fact]
    public void Any_short_line_bars_a_task_that_needs_the_whole_kit()
    {
        var plan = Signs("2027-03-01T09:00", new KitLine("sign", 2) { Received = 1 })
            .Task("unpack", 30, task => task with { Needs = [new("signs")] })
            .Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "unpack", "22:00", "22:30", "ana").Work("mon", "sign", "22:30", "23:00", "ana");
        Assert.Equal(["unpack", "sign"], Checker.Check(plan.Problem, plan.Schedule).Select(breach => breach.About.Task));
    }

    [Fact]
    public void A_short_line_that_no_task_names_bars_nothing() =>
        Assert.Empty(BrokenRulesAt(Signs("2027-03-01T09:00", new KitLine("sign", 2) { Received = 2 }, new KitLine("clip",
            4) { Received = 0 }), "22:00", "22:30"));
}
