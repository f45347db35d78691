using NodaTime;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.HandOvers;

/// <summary>The hand-over of a week.</summary>
/// <param name="State">What keeps the week from being handed over, and what would be accepted open.</param>
/// <param name="Accepted">Absent unless the store has accepted the week.</param>
public sealed record WeekHandOver(string Week, HandOverState State, Acceptance? Accepted);

/// <param name="Name">Who accepted it, in words; absent for readers who may not know, or if it was erased.</param>
/// <param name="Morning">What is to be known in the morning; absent without such a note.</param>
public sealed record Acceptance(
    string HandOver, Instant At, string? Name, string? Morning, IReadOnlyList<OpenCheck> OpenChecks, IReadOnlyList<int> Snags)
{
    /// <summary>The ids of photographs of what was accepted.</summary>
    public IReadOnlyList<string> Photos { get; init; } = [];
}
