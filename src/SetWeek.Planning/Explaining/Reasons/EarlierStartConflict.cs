using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Explains why no plan starts a stint earlier. The earlier start is added to the week as a hypothesis: its display must stand,
/// and a ban of a new trait of its own starts when the stint would have to end. The conflict of that infeasible week, without
/// the hypothesis, is the explanation.
/// </summary>
internal static class EarlierStartConflict
{
    /// <summary>The trait of the hypothesis. A week file cannot have it, because traits contain no spaces.</summary>
    private const string HypotheticalTrait = "what is asked";

    /// <summary>Seconds or effort units for the proof that the week with the hypothesis is infeasible.</summary>
    private const double ProofLimit = 0.5;

    /// <returns>
    /// The members, and whether they are proven irreducible; null if no conflict was found, if the stint is not the last of its
    /// task, or if the stint's duration depends on its mode.
    /// </returns>
    /// <param name="problem">The problem.</param>
    /// <param name="stint">The stint; only the last one of a task can be explained, because the ban binds the whole task.</param>
    /// <param name="minute">No plan starts the stint before this minute.</param>
    /// <param name="budget">The budget of the explanation.</param>
    public static (IReadOnlyList<BlockingRule> Members, bool Irreducible)? Of(
        Problem problem, Stint stint, int minute, Budget budget)
    {
        int[] durations = [.. stint.Task.Modes.Select((_, mode) => problem.MinutesOf(stint, mode)).Distinct()];
        if (!stint.IsLast || budget.Spent || durations is not [var minutes]) return null;
        var week = WithEarlierStartDemanded(problem, stint, minute - problem.Grid.SlotMinutes + minutes);
        var probe = new FeasibilityProbe(problem.Replan, budget);
        if (probe.Decide(week, ProofLimit).Feasible != false) return null;
        var conflict = new ConflictSearch(week, probe).Find();
        BlockingRule[] members = [.. conflict.Members
            .Select(member => WithoutHypothesis(member, stint, problem)).OfType<RelaxableRule>()
            .Select(member => new BlockingRule(member.Rule, member.About, member.Sentence))];
        return members.Length == 0 ? null : (members, conflict.Irreducible);
    }

    private static Week WithEarlierStartDemanded(Problem problem, Stint stint, int end)
    {
        var week = problem.Week;
        var (task, display) = (week.Tasks[stint.Task.Index], week.Displays[stint.Task.Display]);
        var from = problem.Grid.TimeOf(end).LocalDateTime;
        return week with
        {
            // The ban extends beyond the night, because the conflict search may relax the night's hours.
            Nights = [.. week.Nights.Select(night =>
                new Ban(HypotheticalTrait, LocalDateTime.Max(from, night.Opens.PlusHours(-12)), night.Closes.PlusHours(12))
                    is var ban && ban.From < ban.To ? night with { Bans = [.. night.Bans, ban] } : night)],
            Tasks = [.. week.Tasks.Select(other =>
                other == task ? other with { Traits = [.. other.Traits, HypotheticalTrait] } : other)],
            Displays = [.. week.Displays.Select(other => other != display ? other
                : other with { Commitment = DisplayCommitment.Must, Value = 0, Alternate = null })],
        };
    }

    /// <summary>
    /// The member without the hypothetical ban and the hypothetical must of the display; null if nothing is left.
    /// </summary>
    private static RelaxableRule? WithoutHypothesis(RelaxableRule member, Stint stint, Problem problem)
    {
        if (member.Parts.Count > 0)
        {
            RelaxableRule[] left = [.. member.Parts.Where(part => WithoutHypothesis(part, stint, problem) is not null)];
            return left.Length > 0 ? member.WithParts(left) : null;
        }
        return member.BannedTrait == HypotheticalTrait
            || (member.Rule == RuleId.Whole && member.About.Display == problem.Displays[stint.Task.Display].Id) ? null : member;
    }
}
