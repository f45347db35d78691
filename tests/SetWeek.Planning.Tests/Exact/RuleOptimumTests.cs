using SetWeek.Model.Plans;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>The exact model of the tiny week of each rule, solved with all rules and with that rule left out.</summary>
public class RuleOptimumTests
{
    public static TheoryData<RuleId> Rules => new(RuleIds.All);

    [Theory, MemberData(nameof(Rules))]
    public void A_rule_makes_the_best_plan_of_its_week_what_it_is(RuleId rule)
    {
        var (problem, best, without) = RuleWeek.Of(rule);
        Assert.Equal([best], CpOptimum.Best(problem) ?? []);
        Assert.Equal([without], CpOptimum.Best(problem, rule) ?? []);
        Assert.NotEqual(best, without);
    }
}
