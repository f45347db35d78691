using SetWeek.Model.Problems;

namespace SetWeek.Planning.Explaining.RightShift;

/// <summary>Finds the work of a night that waits for a piece of its work by precedence.</summary>
public static class WaitingWork
{
    /// <summary>
    /// The work of the same night that can begin once this is done: the next stint of its task, and after the last stint those of
    /// the tasks that directly follow. Clean-downs and the last task wait for all work, so they are not listed.
    /// </summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A plan.</param>
    /// <param name="work">A piece of its work.</param>
    /// <returns>In the order of their starts; empty for a clean-down.</returns>
    public static IReadOnlyList<ScheduledWork> FreedBy(Problem problem, Schedule schedule, ScheduledWork work) =>
        work.Stint is not { } stint ? []
            : [.. schedule.Work.Where(other => other.Night == work.Night && other.Stint is { } waiting
                    && WaitsFor(problem.Stints[waiting], problem.Stints[stint]))
                .OrderBy(other => other.From).ThenBy(other => other.To).ThenBy(other => other.Stint)];

    private static bool WaitsFor(Stint waiting, Stint stint) => waiting.Task.Index == stint.Task.Index
        ? waiting.Number == stint.Number + 1
        : stint.IsLast && waiting.Task.Precedences.Any(precedence => precedence.Predecessor == stint.Task.Index);
}
