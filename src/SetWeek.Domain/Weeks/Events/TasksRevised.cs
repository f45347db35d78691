using SetWeek.Domain.Directions;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>Tasks were added, replaced or dropped, each as a whole.</summary>
/// <param name="Direction">The direction of the week.</param>
/// <param name="Version">The version of the direction from which the tasks come, or which the week had.</param>
/// <param name="Memo">The memo of head office that asked for it; null if there is none.</param>
/// <param name="Set">The new value of each task that was added or replaced.</param>
/// <param name="Dropped">The ids of the dropped tasks.</param>
/// <param name="By">The id of the person who decided; null if it is not known.</param>
/// <param name="Scoping">How that version of the direction fits the store; null: as before.</param>
/// <param name="MustBeShown">The ids of the displays that are shown before their work begins; null: as before.</param>
public sealed record TasksRevised(
    string Direction, long Version, string? Memo, TaskRevisionKind Kind, IReadOnlyList<WeekTask> Set,
    IReadOnlyList<string> Dropped, string? By = null, IReadOnlyList<ScopingDecision>? Scoping = null,
    IReadOnlyList<string>? MustBeShown = null) : IWeekRevision;

/// <summary>
/// Direction: a later version of the direction was taken into the week. Store: somebody decided for this week alone.
/// </summary>
public enum TaskRevisionKind { Direction, Store }
