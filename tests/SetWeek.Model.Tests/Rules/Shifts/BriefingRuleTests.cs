using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Shifts;

public sealed class BriefingRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { BriefingMinutes = 10 }).Task("a", 60);

    [Fact]
    public void Work_during_the_briefing_is_caught()
    {
        var breach = Week.Plan.Shift("mon", "ana", "22:00", "23:05").Work("mon", "a", "22:05", "23:05", "ana").SingleBreach;
        Assert.Equal((RuleId.Briefing, "ana", "a"), (breach.Rule, breach.About.Person, breach.About.Task));
        Assert.Equal("Ana starts “a” 5 min after the shift begins; the briefing takes 10 min.", breach.Sentence);
    }

    [Fact]
    public void Work_may_start_when_the_briefing_ends() =>
        Assert.Empty(Week.Plan.Shift("mon", "ana", "22:00", "23:10").Work("mon", "a", "22:10", "23:10", "ana").BrokenRules);

    [Fact]
    public void The_briefing_of_each_shift_counts_from_its_own_start()
    {
        var plan = Week.Task("b", 60, task => task with { Zone = "floor" }).Plan
            .Shift("mon", "ana", "22:00", "23:10").Work("mon", "a", "22:10", "23:10", "ana")
            .Shift("mon", "bo", "23:00", "00:05").Work("mon", "b", "23:05", "00:05", "bo");
        Assert.Equal("bo", plan.SingleBreach.About.Person);
    }

    [Fact]
    public void A_shift_that_has_begun_needs_no_briefing_any_more()
    {
        var published = Week.Plan.Shift("mon", "ana", "22:00", "23:10").Work("mon", "a", "22:10", "23:10", "ana");
        // The work was due at 22:10; at 22:05 it is put off until 22:05, five minutes after the shift began.
        var replan = Week.Replan(published, "2027-03-08T22:05");
        Assert.Empty(replan.Shift("mon", "ana", "22:00", "23:05").Work("mon", "a", "22:05", "23:05", "ana").BrokenRules);
    }
}
