using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Two people change places: one comes onto the stint, and whoever leaves it does what the other would have been at meanwhile.
/// </summary>
internal static class PersonSwap
{
    /// <summary>The plan then; null where skills do not allow it. What else it breaks is for the check to say.</summary>
    public static Schedule? Of(ExplanationSubject subject, int leaving, int joining)
    {
        var (problem, night) = (subject.Problem, subject.Work.Night);
        var taken = subject.OtherWork.Where(other => other.Span.Overlaps(subject.Work.Span) && IsOn(other, joining)).ToArray();
        if (taken.Length == 0 || taken.Any(other => other.Night != night || IsOn(other, leaving))) return null;
        var given = new Dictionary<ScheduledWork, ScheduledWork>(ReferenceEqualityComparer.Instance);
        foreach (var other in taken)
            if (AssignmentsWith(problem, other, joining, leaving) is { } assignments) given[other] = other with { Assignments = assignments };
            else return null;
        if (AssignmentsWith(problem, subject.Work, leaving, joining) is not { } crew) return null;
        ScheduledWork[] works = [.. subject.Schedule.Work.Select(work => given.GetValueOrDefault(work, work))];
        var shifts = subject.Schedule.Shifts.ToList();
        var at = shifts.FindIndex(shift => shift.Person == leaving && shift.Night == night);
        if (at < 0) return null;
        ScheduledWork[] theirs = [.. works.Where(work => !ReferenceEquals(work, subject.Work) && IsOn(work, leaving))];
        foreach (var other in given.Values)
            shifts[at] = new ShiftExtension(problem).Cover(shifts[at], leaving, night, other.Span, theirs);
        var between = new ExplanationSubject(problem, subject.Schedule with { Work = works, Shifts = shifts }, subject.Work);
        return new StintMove(between).To(night, subject.Work.From, crew);
    }

    private static bool IsOn(ScheduledWork work, int person) => work.Assignments.Any(assignment => assignment.Person == person);

    private static Assignment[]? AssignmentsWith(Problem problem, ScheduledWork work, int leaving, int joining)
    {
        if (problem.ModeOf(work) is not { } mode) return null;
        Assignment[] assignments =
            [.. new HallConditions(problem, mode).AssignmentsOf([.. work.Assignments.Select(assignment => assignment.Person == leaving ? joining : assignment.Person)])];
        return assignments.Length == mode.People && assignments.All(assignment => assignment.Skill >= 0) ? assignments : null;
    }
}
