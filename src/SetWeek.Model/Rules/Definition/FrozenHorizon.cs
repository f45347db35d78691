using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Definition;

/// <summary>
/// Tells the checks what a re-plan can no longer change. In a first plan nothing has begun or passed. A rule instance that is
/// broken by such facts alone is no fault of the plan (docs/decisions/replan-reading.md).
/// </summary>
internal static class FrozenHorizon
{
    /// <summary>True if the work starts before now. The frozen rule refuses new work there.</summary>
    public static bool HasBegun(this Problem problem, ScheduledWork work) => problem.Facts is { } facts && work.From < facts.Now;

    /// <summary>True if the shift starts before now.</summary>
    public static bool HasBegun(this Problem problem, ScheduledShift shift) =>
        problem.Facts is { } facts && shift.From < facts.Now;

    /// <summary>True if the published shift ended before now. A shift that the re-plan shortens to now has not ended.</summary>
    public static bool HasEnded(this Problem problem, ScheduledShift shift) =>
        problem.HasBegun(shift) && !problem.Facts!.EarliestEnds.ContainsKey((shift.Person, shift.Night));

    /// <summary>True if the end of a begun shift cannot be earlier: the shift is over, or ends as early as it can.</summary>
    public static bool EndsAtEarliest(this Problem problem, ScheduledShift shift) =>
        problem.HasBegun(shift)
        && (!problem.Facts!.EarliestEnds.TryGetValue((shift.Person, shift.Night), out var end) || shift.To <= end);

    /// <summary>True if the break starts before now.</summary>
    public static bool HasBegun(this Problem problem, Span rest) => problem.Facts is { } facts && rest.From < facts.Now;

    /// <summary>True if a published shift of the night starts before now.</summary>
    public static bool HasBegun(this Problem problem, NightWindow night) => problem.Facts is { } facts
        && facts.Published.Shifts.Any(shift => shift.Night == night.Index && shift.From < facts.Now);

    /// <summary>True if the minute is before now.</summary>
    public static bool IsBeforeNow(this Problem problem, int minute) => problem.Facts is { } facts && minute < facts.Now;

    /// <summary>True if the minute is now or earlier.</summary>
    public static bool HasPassed(this Problem problem, int minute) => problem.Facts is { } facts && minute <= facts.Now;

    /// <summary>
    /// Minute by which the last stint of a task must end; <see cref="Problem.Never"/> if it has none or it lapsed.
    /// </summary>
    public static int BindingDue(this Problem problem, IndexedTask task) => problem.Binding(task.Due, task);

    /// <summary>Minute by which work of a task, or a clean-down (null), must end for the launch; never if it lapsed.</summary>
    public static int BindingLaunch(this Problem problem, IndexedTask? task) => problem.Binding(problem.Launch, task);

    /// <summary>
    /// A deadline that has passed lapses for a must, for what may replace a must, and for a display already begun: it is built
    /// late. It binds any other display, which is then left out.
    /// </summary>
    private static int Binding(this Problem problem, int deadline, IndexedTask? task)
    {
        if (!problem.HasPassed(deadline)) return deadline;
        if (task is null || problem.Facts!.StaysPlaced[task.Display]) return Problem.Never;
        var display = problem.Displays[task.Display];
        return (display.AlternateOf is { } replaced ? problem.Displays[replaced] : display).Must ? Problem.Never : deadline;
    }
}
