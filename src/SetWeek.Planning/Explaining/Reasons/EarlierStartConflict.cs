using SetWeek.Model.Plans;
using NodaTime;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Why no plan starts a stint before a certain moment: the week with that asked of it has no plan, and this is its conflict.
/// It is asked as a ban of the stint's own, from the moment at which it would have to be over; the display must stand.
/// </summary>
internal static class EarlierStartConflict
{
    /// <summary>No trait of a week has a space in it.</summary>
    private const string HypotheticalTrait = "what is asked";

    /// <summary>Seconds, or units, for the proof that there is a conflict at all.</summary>
    private const double ProofLimit = 0.5;

    /// <returns>Null where it cannot be asked that way, or no conflict was found in the time given. Smallest: proven.</returns>
    /// <param name="problem">What is planned.</param>
    /// <param name="stint">The last of its task, so that the ban may bind the whole task.</param>
    /// <param name="minute">Before which it does not start.</param>
    /// <param name="budget">What may be used.</param>
    public static (IReadOnlyList<BlockingRule> Members, bool Smallest)? Of(Problem problem, Stint stint, int minute, Budget budget)
    {
        int[] lengths = [.. stint.Task.Modes.Select((_, mode) => problem.MinutesOf(stint, mode)).Distinct()];
        if (!stint.IsLast || budget.Spent || lengths is not [var minutes]) return null;
        var (week, probe) = (WithEarlierStartDemanded(problem, stint, minute - problem.Grid.SlotMinutes + minutes), new FeasibilityProbe(problem.Replan, budget));
        if (probe.Decide(week, ProofLimit).Feasible != false) return null;
        var conflict = new ConflictSearch(week, probe).Find();
        BlockingRule[] members = [.. conflict.Members.Select(member => WithoutHypothesis(member, stint, problem)).OfType<RelaxableRule>()
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
            // Longer than the night, whose hours may be lifted.
            Nights = [.. week.Nights.Select(night =>
                new Ban(HypotheticalTrait, LocalDateTime.Max(from, night.Opens.PlusHours(-12)), night.Closes.PlusHours(12)) is var late
                && late.From < late.To ? night with { Bans = [.. night.Bans, late] } : night)],
            Tasks = [.. week.Tasks.Select(one => one == task ? one with { Traits = [.. one.Traits, HypotheticalTrait] } : one)],
            Displays = [.. week.Displays.Select(one => one != display ? one
                : one with { Commitment = DisplayCommitment.Must, Value = 0, Alternate = null })],
        };
    }

    /// <summary>What was asked is no rule of the week, nor is it that the display must stand where it stands.</summary>
    private static RelaxableRule? WithoutHypothesis(RelaxableRule member, Stint stint, Problem problem)
    {
        if (member.Parts.Count > 0)
        {
            RelaxableRule[] left = [.. member.Parts.Where(part => WithoutHypothesis(part, stint, problem) is not null)];
            return left.Length > 0 ? member.WithParts(left) : null;
        }
        return member.Sentence.Contains($"“{HypotheticalTrait}”", StringComparison.Ordinal)
            || (member.Rule == RuleId.Whole && member.About.Display == problem.Displays[stint.Task.Display].Id) ? null : member;
    }
}
