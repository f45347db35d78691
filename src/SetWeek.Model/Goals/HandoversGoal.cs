using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal handovers: people who leave a task between two consecutive stints of it that lie in the same night. Somebody else
/// then takes over half-done work.
/// </summary>
internal sealed class HandoversGoal : IGoal
{
    public GoalId Id => GoalId.Handovers;

    public long Measure(Problem problem, Schedule schedule)
    {
        var (work, handovers) = (schedule.WorkByStint(problem), 0L);
        foreach (var stint in problem.Stints)
            if (stint.Number > 1 && work[stint.Index - 1] is { } before && work[stint.Index] is { } after
                && before.Night == after.Night)
                handovers += before.Assignments.Count(one => after.Assignments.All(other => other.Person != one.Person));
        return handovers;
    }
}
