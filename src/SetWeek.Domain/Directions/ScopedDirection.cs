using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>
/// A direction as one store is to build it: the displays that it can build, their tasks in its own zones, what is shipped.
/// </summary>
public sealed record ScopedDirection(
    IReadOnlyList<Display> Displays, IReadOnlyList<WeekTask> Tasks, IReadOnlyList<DirectedKit> Kits,
    IReadOnlyList<ScopingDecision> Decisions);
