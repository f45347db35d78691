using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.RightShift;

/// <summary>
/// The order in which a crew that runs late puts off work of the night. A piece is put off only if nothing of the night waits for
/// it. Safety work, work that opens a way out, the last task, work that secures other work in the same night, and clean-downs are
/// never put off. Nor is work for a must that no later night could take.
/// </summary>
public static class DropOrder
{
    /// <summary>
    /// The work to put off: first by the lowest value of its display, then by latest due, then by latest start.
    /// </summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A plan.</param>
    /// <param name="night">Index of the night.</param>
    /// <returns>Stints that have not begun.</returns>
    public static IReadOnlyList<ScheduledWork> Of(Problem problem, Schedule schedule, int night) =>
        [.. schedule.Work.Where(work => work.Night == night && MayBePutOff(problem, schedule, work))
            .OrderBy(work => ValueOf(problem, work))
            .ThenByDescending(work => problem.Stints[work.Stint!.Value].Task.Due)
            .ThenByDescending(work => work.From).ThenBy(work => work.Stint)];

    private static bool MayBePutOff(Problem problem, Schedule schedule, ScheduledWork work)
    {
        if (work.Stint is not { } stint || problem.HasBegun(work) || problem.Facts?.BegunWork[stint] is not null) return false;
        var task = problem.Stints[stint].Task;
        return !task.IsLastTask && !task.Traits.Contains(WeekTask.SafetyTrait) && !task.Traits.Contains(WeekTask.WayOutTrait)
            && !task.Precedences.Any(precedence => precedence.SameNight)
            && !problem.Pins.Stints.Any(pin => pin.Stint == stint && (pin.Night ?? pin.From) is not null)
            && WaitingWork.FreedBy(problem, schedule, work).Count == 0
            && (!IsMust(problem, task) || problem.Nights.Any(later =>
                later.Index > work.Night && later.Opens < Math.Min(task.Due, problem.Launch)));
    }

    private static int ValueOf(Problem problem, ScheduledWork work)
    {
        var task = problem.Stints[work.Stint!.Value].Task;
        var display = problem.Displays[task.Display];
        return IsMust(problem, task) ? int.MaxValue
            : display.AlternateOf is { } original ? problem.Displays[original].Value - problem.Displays[original].AlternateValue
            : display.Value;
    }

    private static bool IsMust(Problem problem, IndexedTask task)
    {
        var display = problem.Displays[task.Display];
        return (display.AlternateOf is { } original ? problem.Displays[original] : display).Must;
    }
}
