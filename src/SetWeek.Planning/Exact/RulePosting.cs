using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Exact.Rules;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact;

/// <summary>Posts the constraints of rules to an exact model.</summary>
internal static class RulePosting
{
    /// <summary>Posts the given rules and returns the same model, ready to be solved.</summary>
    /// <param name="model">A model to which no rules are posted yet.</param>
    /// <param name="rules">The rules to post.</param>
    /// <param name="implied">
    /// Whether to post implied (redundant) constraints too. They follow from all rules together, so null posts them only where
    /// all rules are given.
    /// </param>
    public static CpWeekModel With(this CpWeekModel model, IReadOnlyList<IRule> rules, bool? implied = null)
    {
        foreach (var rule in rules) RuleConstraints.Of(rule.Id)(model);
        model.ApplyStartDomains();
        model.AddNoOverlaps();
        if (implied ?? rules.Count == AllRules.InOrder.Count) model.AddImplied();
        return model;
    }
}
