using SetWeek.Model.Plans;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// Rule instances of a week that cannot hold together.
/// </summary>
/// <param name="Members">In the order in which a lead would read them.</param>
/// <param name="Irreducible">Proven: without any one of them, all else of the week lifted, there is a plan.</param>
/// <param name="RelaxedWeek">The week with everything lifted that is not a member: proven to have no plan.</param>
internal sealed record Conflict(IReadOnlyList<RelaxableRule> Members, bool Irreducible, Week RelaxedWeek);

/// <summary>
/// Looks for a smallest set of rule instances that cannot hold together, by lifting: what can be lifted and still leaves no
/// plan is no part of it. First among the rules as wholes, then among the instances of those that are in it.
/// </summary>
/// <param name="week">Proven to have no plan.</param>
/// <param name="probe">What is asked of changed weeks, and for how long.</param>
/// <param name="proofTime">How long it took, in seconds or units, to prove that.</param>
internal sealed class ConflictSearch(Week week, FeasibilityProbe probe, double proofTime = 0)
{
    /// <summary>Instances of one rule that are named one by one; more are named together, as one.</summary>
    private const int MaxNamedSingly = 3;

    /// <summary>
    /// Seconds, or units, for what a glance does not decide: at least, and as often as long as it took to prove the week.
    /// </summary>
    private const double MinDecisionLimit = 0.3, FirstProofTimeFactor = 1.5, SecondProofTimeFactor = 5;

    private readonly IReadOnlyList<RelaxableRule> relaxableRules = AllRelaxableRules.Of(week);
    private readonly List<RelaxableRule> remaining = [];
    private readonly List<RelaxableRule> relaxed = [];
    private readonly Dictionary<RelaxableRule, Schedule> scheduleWithout = new(ReferenceEqualityComparer.Instance);

    public Conflict Find()
    {
        // What a lead would rather read of is tried last; without all that must stand there mostly is a plan at once.
        remaining.AddRange(relaxableRules.Reverse());
        TryRelax([.. remaining.Where(relaxable => relaxable.Rule != RuleId.Whole)], probe.CheckQuickly);
        TryRelax([.. remaining.Where(relaxable => relaxable.Rule == RuleId.Whole)], probe.CheckQuickly);
        foreach (var patience in (double[])[Math.Max(MinDecisionLimit, FirstProofTimeFactor * proofTime), Math.Max(4 * MinDecisionLimit, SecondProofTimeFactor * proofTime)])
            TryRelax([.. remaining.Where(IsUndecided)], changed => probe.Decide(changed, patience));
        foreach (var group in remaining.Where(relaxable => relaxable.Parts.Count > 0).ToArray()) RefineGroup(group);
        return new([.. remaining.OrderBy(ReadingOrder)], remaining.All(IsProvenNecessary), WeekWithout([]));
    }

    private bool IsUndecided(RelaxableRule rule) => !scheduleWithout.ContainsKey(rule);

    /// <summary>Halves first: mostly a few of many are in it.</summary>
    private void TryRelax(IReadOnlyList<RelaxableRule> rules, Func<Week, FeasibilityResult> decide)
    {
        if (rules.Count == 0 || probe.Budget.Spent || AcceptIfInfeasible(rules, decide(WeekWithout(rules))) || rules.Count == 1) return;
        TryRelax([.. rules.Take(rules.Count / 2)], decide);
        TryRelax([.. rules.Skip(rules.Count / 2)], decide);
    }

    /// <summary>True where the instances were lifted for good; notes the plan that is there without one.</summary>
    private bool AcceptIfInfeasible(IReadOnlyList<RelaxableRule> rules, FeasibilityResult result)
    {
        if (result.Schedule is { } plan && rules.Count == 1) scheduleWithout[rules[0]] = plan;
        if (result.Feasible != false) return false;
        remaining.RemoveAll(rules.Contains);
        relaxed.AddRange(rules);
        return true;
    }

    /// <summary>
    /// The instances of a rule in the conflict that are in it themselves. Where they are many, or not all decided, they stay
    /// one: that there is a plan without them all is known already.
    /// </summary>
    private void RefineGroup(RelaxableRule group)
    {
        if (probe.Budget.Spent) return;
        var at = remaining.IndexOf(group);
        remaining.RemoveAt(at);
        remaining.InsertRange(at, group.Parts);
        TryRelax(group.Parts, probe.CheckQuickly);
        var left = group.Parts.Where(remaining.Contains).ToArray();
        if (left.Length is > 1 and <= MaxNamedSingly) TryRelax([.. left.Where(IsUndecided)], changed => probe.Decide(changed, MinDecisionLimit));
        left = [.. group.Parts.Where(remaining.Contains)];
        if (left.Length <= MaxNamedSingly && (left.Length == 1 || !left.Any(IsUndecided)))
        {
            if (left.Length == 1 && scheduleWithout.TryGetValue(group, out var known)) scheduleWithout.TryAdd(left[0], known);
            return;
        }
        var together = group.WithParts(left);
        at = remaining.IndexOf(left[0]);
        remaining.RemoveAll(left.Contains);
        remaining.Insert(at, together);
        if (scheduleWithout.TryGetValue(group, out var plan)) scheduleWithout[together] = plan;
    }

    /// <summary>More was lifted since the plan without it was found: mostly it still is one, and else there is another.</summary>
    private bool IsProvenNecessary(RelaxableRule rule)
    {
        if (IsUndecided(rule) || probe.Budget.Stop.IsCancellationRequested) return false;
        var alone = WeekWithout([rule]);
        return Checker.Check(Problem.Of(alone, probe.Replan), scheduleWithout[rule]).Count == 0
            || probe.Decide(alone, MinDecisionLimit).Feasible == true;
    }

    private Week WeekWithout(IReadOnlyList<RelaxableRule> rules) =>
        relaxed.Concat(rules).Aggregate(week, (bare, relaxable) => relaxable.Relax(bare));

    private int ReadingOrder(RelaxableRule rule)
    {
        for (var place = 0; place < relaxableRules.Count; place++)
            if (relaxableRules[place].Rule == rule.Rule) return place;
        return relaxableRules.Count;
    }
}
