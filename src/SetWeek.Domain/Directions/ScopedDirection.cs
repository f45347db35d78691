using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>
/// A direction scoped to a store: the displays that the store can build, their tasks in zones of the store, and the kits
/// that these tasks need.
/// </summary>
public sealed record ScopedDirection(
    IReadOnlyList<Display> Displays, IReadOnlyList<WeekTask> Tasks, IReadOnlyList<DirectedKit> Kits,
    IReadOnlyList<ScopingDecision> Decisions)
{
    /// <summary>The ids of its displays that are shown before their work begins.</summary>
    public IReadOnlyList<string> MustBeShown { get; init; } = [];
}
