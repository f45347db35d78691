using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Places;

public sealed class CompanyRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { Company = [new("ladder", 2), new("overhead", 3)] })
        .Task("a", 60, OnLadder);

    private static readonly TinyPlan Plan = With(Other(Week, "b"));

    [Fact]
    public void Ladder_work_alone_in_its_zone_is_caught()
    {
        var breach = Plan.SingleBreach;
        Assert.Equal((RuleId.Company, "a", "wall"), (breach.Rule, breach.About.Task, breach.About.Zone));
        Assert.Equal(
            "“a” is ladder work, which needs 2 people at work in Wall; from Mon 8 Mar 23:00 1 is.", breach.Sentence);
    }

    [Theory]
    [InlineData("23:00", "00:00", true)]
    [InlineData("22:55", "23:55", false)] // gone for the last five minutes
    [InlineData("23:05", "00:05", false)] // comes five minutes late
    public void Somebody_is_at_work_in_the_zone_from_start_to_end(string from, string to, bool allowed) =>
        Assert.Equal(allowed ? [] : ["company"], Plan.Work("mon", "b", from, to, "bo").BrokenRules);

    [Fact]
    public void The_sentence_says_from_when_somebody_is_alone() =>
        Assert.Contains("from Mon 8 Mar 23:55 1 is.", Plan.Work("mon", "b", "22:55", "23:55", "bo").SingleBreach.Sentence);

    [Fact]
    public void Somebody_in_another_zone_is_no_company() =>
        Assert.Equal(["company"], With(Other(Week, "c", task => task with { Zone = "floor" })).Work("mon", "c", "23:00", "00:00", "bo").BrokenRules);

    [Fact]
    public void Several_pieces_of_work_can_be_company_one_after_the_other() =>
        Assert.Empty(With(Other(Other(Week, "b"), "d")).Work("mon", "b", "22:30", "23:30", "bo").Work("mon", "d", "23:30", "00:30", "bo")
            .BrokenRules);

    [Fact]
    public void Two_pieces_of_ladder_work_are_company_to_each_other() =>
        Assert.Empty(With(Other(Week, "d", OnLadder)).Work("mon", "d", "23:00", "00:00", "bo").BrokenRules);

    [Fact]
    public void The_largest_number_of_a_tasks_traits_counts()
    {
        var plan = With(Other(Week, "d", task => task with { Traits = ["ladder", "overhead"] }));
        Assert.Contains("“d” is overhead work, which needs 3 people",
            plan.Work("mon", "d", "23:00", "00:00", "bo").SingleBreach.Sentence);
    }

    [Fact]
    public void Its_own_people_are_company()
    {
        var week = TinyWeek.New.Rules(new() { Company = [new("ladder", 2)] })
            .Task("d", 60, task => OnLadder(task) with { Modes = [new(60, [new("hands", 2)])] });
        Assert.Empty(week.Plan.Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "22:00", "02:00")
            .Work("mon", "d", "23:00", "00:00", "ana", "bo").BrokenRules);
    }

    /// <summary>Work in the same zone that may be left out.</summary>
    private static TinyWeek Other(TinyWeek week, string id, Func<WeekTask, WeekTask>? change = null) => week
        .Display(id, display => display with { Commitment = DisplayCommitment.Want, Value = 1 })
        .Task(id, 60, task => (change ?? (same => same))(task with { Display = id }));

    private static TinyPlan With(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "02:00")
        .Shift("mon", "bo", "22:00", "02:00").Work("mon", "a", "23:00", "00:00", "ana");

    private static WeekTask OnLadder(WeekTask task) => task with { Traits = ["ladder"] };
}
