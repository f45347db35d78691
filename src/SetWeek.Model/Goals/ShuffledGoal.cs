using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal shuffled: stints that a re-plan leaves in their published night, but starts more than 30 minutes earlier or later or
/// gives to other people. Stints that have begun do not count. It is 0 in a first plan.
/// </summary>
internal sealed class ShuffledGoal : IGoal
{
    /// <summary>A start may move by as many minutes without counting.</summary>
    public const int StartToleranceMinutes = 30;

    public GoalId Id => GoalId.Shuffled;

    public long Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var (published, planned) = (facts.Published.WorkByStint(problem), schedule.WorkByStint(problem));
        return problem.Stints.Count(stint => !facts.HasBegun[stint.Index]
            && published[stint.Index] is { } before && planned[stint.Index] is { } after && IsShuffled(before, after));
    }

    private static bool IsShuffled(ScheduledWork before, ScheduledWork after) => before.Night == after.Night
        && (Math.Abs(after.From - before.From) > StartToleranceMinutes || !PeopleOf(before).SetEquals(PeopleOf(after)));

    private static HashSet<int> PeopleOf(ScheduledWork work) =>
        [.. work.Assignments.Select(assignment => assignment.Person)];
}
