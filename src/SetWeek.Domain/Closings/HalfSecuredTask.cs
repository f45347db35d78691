using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Closings;

/// <summary>
/// Work that was begun or done, while the task that must follow it in the same night is not done. What stands is half-secured
/// then: a canopy on single lines, steps that are not anchored.
/// </summary>
/// <param name="Begun">The task that was begun or done.</param>
/// <param name="Securing">The task that would secure it.</param>
public sealed record HalfSecuredTask(WeekTask Begun, WeekTask Securing)
{
    public string Sentence => $"“{Begun.Name}” is begun or done, and “{Securing.Name}” is not done.";

    /// <summary>By the order of tasks of the week; a securing task is named once for each task that it secures.</summary>
    public static IReadOnlyList<HalfSecuredTask> Of(StoreWeek week)
    {
        var tasks = week.Week.Tasks.ToDictionary(task => task.Id);
        return
        [
            .. from securing in week.Week.Tasks
                where !IsDone(week, securing)
                from precedence in securing.After
                where precedence.SameNight && tasks.ContainsKey(precedence.Task)
                let begun = tasks[precedence.Task]
                where HasBegun(week, begun)
                select new HalfSecuredTask(begun, securing),
        ];
    }

    public static bool IsDone(StoreWeek week, WeekTask task) =>
        StatusesOf(week, task).All(status => status?.State == WorkState.Done);

    /// <summary>Work that must be done again has begun too: something of it stands.</summary>
    private static bool HasBegun(StoreWeek week, WeekTask task) => StatusesOf(week, task).Any(status =>
        status is { State: WorkState.Running or WorkState.Done } or { State: WorkState.Blocked, From: not null }
            or { Paused: true });

    private static IEnumerable<WorkStatus?> StatusesOf(StoreWeek week, WeekTask task) =>
        Enumerable.Range(1, task.Stints).Select(stint => week.ReportedWork.StatusOf(new WorkKey(task.Id, stint)));
}
