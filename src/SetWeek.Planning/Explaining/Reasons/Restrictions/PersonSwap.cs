using SetWeek.Model.Problems;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Swaps two people: one joins the stint, and the one who leaves it takes over the other's work at that time.
/// </summary>
internal static class PersonSwap
{
    /// <summary>
    /// The plan with the swap, not yet checked; null if the skills do not allow it or there is no work to take over.
    /// </summary>
    public static Schedule? Of(ExplanationSubject subject, int leaving, int joining)
    {
        var (problem, night) = (subject.Problem, subject.Work.Night);
        var takenOver = subject.OtherWork.Where(other => other.Span.Overlaps(subject.Work.Span) && IsOn(other, joining))
            .ToArray();
        if (takenOver.Length == 0 || takenOver.Any(other => other.Night != night || IsOn(other, leaving))) return null;
        var changed = new Dictionary<ScheduledWork, ScheduledWork>(ReferenceEqualityComparer.Instance);
        foreach (var other in takenOver)
            if (AssignmentsWith(problem, other, joining, leaving) is { } assignments)
                changed[other] = other with { Assignments = assignments };
            else return null;
        if (AssignmentsWith(problem, subject.Work, leaving, joining) is not { } crew) return null;
        ScheduledWork[] works = [.. subject.Schedule.Work.Select(work => changed.GetValueOrDefault(work, work))];
        var shifts = subject.Schedule.Shifts.ToList();
        var index = shifts.FindIndex(shift => shift.Person == leaving && shift.Night == night);
        if (index < 0) return null;
        ScheduledWork[] ownWork = [.. works.Where(work => !ReferenceEquals(work, subject.Work) && IsOn(work, leaving))];
        foreach (var other in changed.Values)
            shifts[index] = new ShiftExtension(problem).Cover(shifts[index], leaving, night, other.Span, ownWork);
        var swapped = new ExplanationSubject(problem, subject.Schedule with { Work = works, Shifts = shifts }, subject.Work);
        return new StintMove(swapped).To(night, subject.Work.From, crew);
    }

    private static bool IsOn(ScheduledWork work, int person) => work.Assignments.Any(assignment => assignment.Person == person);

    private static Assignment[]? AssignmentsWith(Problem problem, ScheduledWork work, int leaving, int joining)
    {
        if (problem.ModeOf(work) is not { } mode) return null;
        int[] people =
            [.. work.Assignments.Select(assignment => assignment.Person == leaving ? joining : assignment.Person)];
        Assignment[] assignments = [.. new HallConditions(problem, mode).AssignmentsOf(people)];
        return assignments.Length == mode.People && assignments.All(assignment => assignment.Skill >= 0) ? assignments : null;
    }
}
