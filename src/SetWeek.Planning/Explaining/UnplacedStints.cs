using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Explaining;

/// <summary>
/// What stands in the way of a plan where the time ran out: the stints that the closest attempt found no place for, what each
/// needs, and the nights that it could be in.
/// </summary>
internal static class UnplacedStints
{
    /// <param name="problem">The problem.</param>
    /// <param name="stints">Indices of the stints.</param>
    public static IReadOnlyList<Breach> Of(Problem problem, IReadOnlyList<int> stints)
    {
        if (stints.Count == 0) return [];
        var compact = new CompactProblem(problem);
        return [.. stints.Select(stint => new Breach(RuleId.Whole, RulePhrases.Subject(problem, problem.Stints[stint]),
            WeekPhrases.Truncated(Sentence(problem, compact, stint))))];
    }

    private static string Sentence(Problem problem, CompactProblem compact, int stint)
    {
        var nights = Enumerable.Range(0, compact.Nights)
            .Where(night => IsPossibleIn(compact, compact.Activities[stint], night))
            .Select(night => RulePhrases.Night(problem, night)).ToList();
        var shortest = problem.Stints[stint].Task.Modes.MinBy(mode => mode.Minutes)!;
        var needs = $"{RulePhrases.Stint(problem, problem.Stints[stint])} needs {Needs(problem, shortest)}";
        return nights.Count == 0 ? $"{needs}. No night has a time for it, even without other work."
            : $"{needs}. It could be done in {WeekPhrases.ListFirst(nights)}, but found no room beside the other work.";
    }

    /// <summary>"45 min of 2 people for painting and 1 person for lifting".</summary>
    private static string Needs(Problem problem, ActivityMode mode)
    {
        var people = mode.RequiredSkills
            .GroupBy(requirement => requirement.Skill)
            .Select(of => $"{WeekPhrases.People(of.Sum(requirement => requirement.People))} for {problem.Skills[of.Key]}")
            .ToList();
        return RulePhrases.Duration(mode.Minutes) + (people.Count == 0 ? "" : $" of {WeekPhrases.List(people)}");
    }

    /// <summary>True if the stint has a possible start in the night in an empty schedule.</summary>
    private static bool IsPossibleIn(CompactProblem compact, CompactActivity activity, int night) =>
        activity.Modes.Any(mode =>
            mode.PossibleStarts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight).ContainsAnyExcept(0UL));
}
