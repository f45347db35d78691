using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// Two people change places: one comes onto the stint, and whoever leaves it does what the other would have been at meanwhile.
/// </summary>
internal static class Swap
{
    /// <summary>The plan then; null where skills do not allow it. What else it breaks is for the check to say.</summary>
    public static Schedule? Of(Subject subject, int leaves, int comes)
    {
        var (problem, night) = (subject.Problem, subject.Work.Night);
        var taken = subject.Others.Where(other => other.Span.Overlaps(subject.Work.Span) && At(other, comes)).ToArray();
        if (taken.Length == 0 || taken.Any(other => other.Night != night || At(other, leaves))) return null;
        var given = new Dictionary<Work, Work>(ReferenceEqualityComparer.Instance);
        foreach (var other in taken)
            if (Instead(problem, other, comes, leaves) is { } hands) given[other] = other with { People = hands };
            else return null;
        if (Instead(problem, subject.Work, leaves, comes) is not { } crew) return null;
        Work[] works = [.. subject.Plan.Work.Select(work => given.GetValueOrDefault(work, work))];
        var shifts = subject.Plan.Shifts.ToList();
        var at = shifts.FindIndex(shift => shift.Person == leaves && shift.Night == night);
        if (at < 0) return null;
        Work[] theirs = [.. works.Where(work => !ReferenceEquals(work, subject.Work) && At(work, leaves))];
        foreach (var other in given.Values)
            shifts[at] = new Stretching(problem).Over(shifts[at], leaves, night, other.Span, theirs);
        var between = new Subject(problem, subject.Plan with { Work = works, Shifts = shifts }, subject.Work);
        return new Move(between).To(night, subject.Work.From, crew);
    }

    private static bool At(Work work, int person) => work.People.Any(hand => hand.Person == person);

    private static Hand[]? Instead(Problem problem, Work work, int leaves, int comes)
    {
        if (problem.WayOf(work) is not { } way) return null;
        Hand[] hands =
            [.. new Crewing(problem, way).HandsOf([.. work.People.Select(hand => hand.Person == leaves ? comes : hand.Person)])];
        return hands.Length == way.People && hands.All(hand => hand.Skill >= 0) ? hands : null;
    }
}
