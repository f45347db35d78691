using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Reasons.Restrictions;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Explains the earliest start of a stint by the longest path to it: the predecessor that it waits for, what that one waits
/// for, and so on back to a fact. Each step is a tightening by the propagation of stint windows. The result is empty if some
/// tightening is neither a precedence, a fact nor a calendar step.
/// </summary>
internal static class LongestPathExplanation
{
    public static IReadOnlyList<BlockingRule> Of(Problem problem, StintWindowPropagation windows, Stint stint)
    {
        var path = new List<BlockingRule>();
        while (windows.HasNight(stint.Index))
        {
            var start = windows.EarliestStart(stint.Index);
            var arcs = windows.Precedences.Where(edge => edge.Successor == stint.Index && windows.Binds(edge, stint.Index))
                .Select(edge => (Edge: edge, Until: windows.EarliestEnd(edge.Predecessor) + edge.Lag)).ToArray();
            var facts = ReleaseTimes(problem, stint).ToArray();
            int[] releases = [-Problem.Never, .. arcs.Select(arc => arc.Until), .. facts.Select(fact => fact.Until)];
            var last = releases.Max();
            if (CalendarStep(problem, stint, start, last) is { } calendar) path.Add(calendar);
            else if (start > last + problem.Grid.SlotMinutes) return [];
            if (last <= problem.Nights[0].Opens) return path;
            if (facts.FirstOrDefault(fact => fact.Until == last).Held is { } fact)
            {
                path.Add(fact);
                return path;
            }
            var binding = arcs.First(arc => arc.Until == last);
            var before = problem.Stints[binding.Edge.Predecessor];
            path.Add(PrecedenceStep(problem, stint, before, windows.EarliestEnd(before.Index), last));
            stint = before;
        }
        return [];
    }

    private static BlockingRule PrecedenceStep(Problem problem, Stint stint, Stint predecessor, int end, int until)
    {
        var rule = predecessor.Task == stint.Task ? RuleId.Whole : until > end ? RuleId.Drying
            : stint.Task.Precedences.Any(precedence => precedence.Predecessor == predecessor.Task.Index)
                ? RuleId.After : RuleId.Last;
        var dries = until > end ? $" and then has to dry until {RulePhrases.Time(problem, until)}" : "";
        return new BlockingRule(rule, RulePhrases.Subject(problem, stint),
            $"{Name(problem, stint)} waits for {Name(problem, predecessor)}, which ends {RulePhrases.Time(problem, end)} at the "
                + $"earliest{dries}.")
            { By = RulePhrases.Subject(problem, predecessor), Until = problem.Grid.TimeOf(until) };
    }

    private static IEnumerable<(int Until, BlockingRule Held)> ReleaseTimes(Problem problem, Stint stint)
    {
        var (about, name) = (RulePhrases.Subject(problem, stint), Name(problem, stint));
        foreach (var id in problem.Week.Tasks[stint.Task.Index].Needs.Select(need => need.Kit).Distinct())
            if (problem.Week.Kits.First(kit => kit.Id == id) is { Eta: { } eta } kit && problem.Grid.MinuteOf(eta) is var comes)
                yield return Fact(RuleId.Kit, about with { Kit = id }, comes,
                    $"{name} needs “{kit.Name}”, which arrives {RulePhrases.Time(problem, comes)}.");
        if (problem.Facts is not { } facts) yield break;
        if (facts.BegunWork[stint.Index] is { } begun)
            yield return Fact(RuleId.Frozen, about, begun.From, $"{name} began {RulePhrases.Time(problem, begun.From)}.");
        yield return Fact(RuleId.Frozen, about, facts.Now,
            $"Nothing new starts before now, {RulePhrases.Time(problem, facts.Now)}.");
        if (facts.EarliestStarts[stint.Index] is > -Problem.Never and < Problem.Never and var until)
            yield return Fact(RuleId.Frozen, about, until, $"{name} is blocked until {RulePhrases.Time(problem, until)}.");

        (int, BlockingRule) Fact(RuleId rule, RuleSubject about, int until, string sentence) =>
            (until, BlockingRuleUntil(problem, rule, about, until, sentence));
    }

    /// <summary>
    /// What delays the stint from its release to its start: a night, opening up or a ban; null if none of them.
    /// </summary>
    private static BlockingRule? CalendarStep(Problem problem, Stint stint, int start, int releasedAt)
    {
        if (releasedAt >= start) return null;
        if (problem.Nights.FirstOrDefault(night => night.Opens == start) is { } night)
            return BlockingRuleUntil(problem, RuleId.Window, new RuleSubject { Night = night.Id }, start,
                $"The night opens {RulePhrases.Time(problem, start)}.");
        if (problem.Rules is { KeyholderPresent: true, OpeningMinutes: > 0 and var minutes }
            && problem.Nights
                .FirstOrDefault(other => problem.NextSlot(other.Index, other.Opens + minutes) == start) is { } opened)
            return BlockingRuleUntil(problem, RuleId.OpenClose, new RuleSubject { Night = opened.Id }, start,
                $"The night opens {RulePhrases.Time(problem, opened.Opens)}, and opening up takes "
                    + $"{RulePhrases.Duration(minutes)}.");
        foreach (var ban in problem.Nights.SelectMany(other => other.Bans).Where(ban => stint.Task.Traits.Contains(ban.Trait)))
            if (ban.Span.To <= start && start < ban.Span.To + problem.Grid.SlotMinutes)
                return BlockingRuleUntil(problem, RuleId.Ban, RulePhrases.Subject(problem, stint), ban.Span.To,
                    $"{Name(problem, stint)} is {ban.Trait} work, which is banned until "
                        + $"{RulePhrases.Time(problem, ban.Span.To)}.");
        return null;
    }

    private static BlockingRule BlockingRuleUntil(Problem problem, RuleId rule, RuleSubject about, int until, string sentence) =>
        new(rule, about, sentence) { Until = problem.Grid.TimeOf(until) };

    /// <summary>The stint without the comma after its part number.</summary>
    private static string Name(Problem problem, Stint stint) => RulePhrases.Stint(problem, stint).TrimEnd(',');
}
