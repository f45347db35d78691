using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>The clean-down that work of a task requires in its zone, later in the same night.</summary>
internal static class RequiredCleanDown
{
    /// <summary>Null where the zone defines no clean-down or the task is the last one of the week.</summary>
    public static ActivityMode? CleanDownAfter(this Problem problem, IndexedTask task) =>
        task.IsLastTask ? null : problem.Zones[task.Zone].CleanDown;

    /// <summary>
    /// Minutes of clean-down that follow every stint of the task in every valid plan. Always 0 in a re-plan, because begun work
    /// may be without its clean-down.
    /// </summary>
    public static int CleanDownMinutesAfter(this Problem problem, IndexedTask task) =>
        problem.Facts is null ? problem.CleanDownAfter(task)?.Minutes ?? 0 : 0;
}
