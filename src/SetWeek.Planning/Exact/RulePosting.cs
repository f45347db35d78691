using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Exact.Rules;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact;

/// <summary>Posts the constraints of rules on an exact model.</summary>
internal static class RulePosting
{
    /// <summary>The model with the constraint of every rule given, ready to be solved.</summary>
    /// <param name="model">Variables without rules.</param>
    /// <param name="rules">What binds.</param>
    /// <param name="implied">Whether redundant constraints are posted too; null: where all rules are given.</param>
    public static CpWeekModel With(this CpWeekModel model, IReadOnlyList<IRule> rules, bool? implied = null)
    {
        foreach (var rule in rules) RuleConstraints.Of(rule.Id)(model);
        model.ApplyStartDomains();
        model.AddNoOverlaps();
        if (implied ?? rules.Count == AllRules.InOrder.Count) model.AddImplied();
        return model;
    }
}
