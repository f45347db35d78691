using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>Rule instances of a week that cannot all hold.</summary>
/// <param name="Members">In reading order, see <see cref="AllRelaxableRules"/>.</param>
/// <param name="Irreducible">
/// True if it is proven that no member can be left out: with all other rules relaxed, the remaining members can hold.
/// </param>
/// <param name="RelaxedWeek">The week with all rules relaxed but the members; it is proven infeasible.</param>
internal sealed record Conflict(IReadOnlyList<RelaxableRule> Members, bool Irreducible, Week RelaxedWeek);

/// <summary>
/// Searches an irreducible infeasible subset of the rule instances by a deletion filter (Chinneck and Dravnieks 1991, cited from
/// memory). If the week stays infeasible without a rule, the rule is not part of the conflict. Groups of instances are tried
/// first, then the instances of the groups that remain.
/// </summary>
/// <param name="week">A week that is proven infeasible.</param>
/// <param name="probe">Decides whether relaxed weeks are feasible, within its budget.</param>
/// <param name="proofTime">How long the infeasibility proof took, in seconds or effort units.</param>
internal sealed class ConflictSearch(Week week, FeasibilityProbe probe, double proofTime = 0)
{
    /// <summary>The most instances of one rule that become separate members; more stay one group.</summary>
    private const int MaxNamedSingly = 3;

    /// <summary>
    /// Limits of decisions that a quick check leaves open: at least so many seconds or effort units, and at least these
    /// multiples of the proof time.
    /// </summary>
    private const double MinDecisionLimit = 0.3, FirstProofTimeFactor = 1.5, SecondProofTimeFactor = 5;

    private readonly IReadOnlyList<RelaxableRule> relaxableRules = AllRelaxableRules.Of(week, probe.Replan);
    private readonly List<RelaxableRule> remaining = [];
    private readonly List<RelaxableRule> relaxed = [];
    private readonly Dictionary<RelaxableRule, Schedule> scheduleWithout = new(ReferenceEqualityComparer.Instance);

    public Conflict Find()
    {
        // Rules tried late are more likely to stay, so the order is reversed. Relaxing all mandatory displays usually gives a
        // plan at once, so they come after all other rules.
        remaining.AddRange(relaxableRules.Reverse());
        TryRelax([.. remaining.Where(relaxable => relaxable.Rule != RuleId.Whole)], probe.CheckQuickly);
        TryRelax([.. remaining.Where(relaxable => relaxable.Rule == RuleId.Whole)], probe.CheckQuickly);
        double[] limits =
        [
            Math.Max(MinDecisionLimit, FirstProofTimeFactor * proofTime),
            Math.Max(4 * MinDecisionLimit, SecondProofTimeFactor * proofTime),
        ];
        foreach (var limit in limits)
        {
            // Halving asks about two questions for each rule. One long question must not leave no time for the others.
            var undecided = remaining.Where(IsUndecided).ToArray();
            var share = Math.Max(MinDecisionLimit, probe.Budget.Remaining / (2 * Math.Max(1, undecided.Length)));
            TryRelax(undecided, changed => probe.Decide(changed, Math.Min(limit, share)));
        }
        foreach (var group in remaining.Where(relaxable => relaxable.Parts.Count > 0).ToArray()) RefineGroup(group);
        return new([.. remaining.OrderBy(ReadingOrder)], remaining.All(IsProvenNecessary), WeekWithout([]));
    }

    private bool IsUndecided(RelaxableRule rule) => !scheduleWithout.ContainsKey(rule);

    /// <summary>Tries all rules at once, then halves: usually only a few of many rules are in the conflict.</summary>
    private void TryRelax(IReadOnlyList<RelaxableRule> rules, Func<Week, FeasibilityResult> decide)
    {
        if (rules.Count == 0 || probe.Budget.Spent) return;
        if (AcceptIfInfeasible(rules, decide(WeekWithout(rules))) || rules.Count == 1) return;
        TryRelax([.. rules.Take(rules.Count / 2)], decide);
        TryRelax([.. rules.Skip(rules.Count / 2)], decide);
    }

    /// <summary>True if the rules were relaxed for good. If a plan exists without a single rule, it is recorded.</summary>
    private bool AcceptIfInfeasible(IReadOnlyList<RelaxableRule> rules, FeasibilityResult result)
    {
        if (result.Schedule is { } plan && rules.Count == 1) scheduleWithout[rules[0]] = plan;
        if (result.Feasible != false) return false;
        remaining.RemoveAll(rules.Contains);
        relaxed.AddRange(rules);
        return true;
    }

    /// <summary>
    /// Replaces a group by those of its instances that are in the conflict. If these are many, or not all decided, they stay one
    /// group, for which a plan without it is already known.
    /// </summary>
    private void RefineGroup(RelaxableRule group)
    {
        if (probe.Budget.Spent) return;
        var position = remaining.IndexOf(group);
        remaining.RemoveAt(position);
        remaining.InsertRange(position, group.Parts);
        TryRelax(group.Parts, probe.CheckQuickly);
        var left = group.Parts.Where(remaining.Contains).ToArray();
        if (left.Length is > 1 and <= MaxNamedSingly)
            TryRelax([.. left.Where(IsUndecided)], changed => probe.Decide(changed, MinDecisionLimit));
        left = [.. group.Parts.Where(remaining.Contains)];
        if (left.Length <= MaxNamedSingly && (left.Length == 1 || !left.Any(IsUndecided)))
        {
            if (left.Length == 1 && scheduleWithout.TryGetValue(group, out var known)) scheduleWithout.TryAdd(left[0], known);
            return;
        }
        var smallerGroup = group.WithParts(left);
        position = remaining.IndexOf(left[0]);
        remaining.RemoveAll(left.Contains);
        remaining.Insert(position, smallerGroup);
        if (scheduleWithout.TryGetValue(group, out var plan)) scheduleWithout[smallerGroup] = plan;
    }

    /// <summary>
    /// True if the relaxed week is feasible without the rule. The recorded plan usually still proves this, because
    /// rules have only been relaxed since it was found. Otherwise the solver checks the week again.
    /// </summary>
    private bool IsProvenNecessary(RelaxableRule rule)
    {
        if (IsUndecided(rule) || probe.Budget.Stop.IsCancellationRequested) return false;
        var weekWithoutRule = WeekWithout([rule]);
        return Checker.Check(Problem.Of(weekWithoutRule, probe.Replan), scheduleWithout[rule]).Count == 0
            || probe.Decide(weekWithoutRule, MinDecisionLimit).Feasible == true;
    }

    private Week WeekWithout(IReadOnlyList<RelaxableRule> rules) =>
        relaxed.Concat(rules).Aggregate(week, (current, relaxable) => relaxable.Relax(current));

    private int ReadingOrder(RelaxableRule rule)
    {
        for (var index = 0; index < relaxableRules.Count; index++)
            if (relaxableRules[index].Rule == rule.Rule) return index;
        return relaxableRules.Count;
    }
}
