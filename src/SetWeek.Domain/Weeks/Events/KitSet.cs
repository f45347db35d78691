using SetWeek.Domain.Directions;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// What is shipped with a kit. A kit that the week did not have is added. When it is expected, and what was counted, have events
/// of their own.
/// </summary>
public sealed record KitSet(string Kit, string Name, IReadOnlyList<DirectedLine> Lines) : IWeekRevision;

/// <summary>The kit is not sent.</summary>
public sealed record KitDropped(string Kit) : IWeekRevision;
