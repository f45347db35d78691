using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A part of every later plan is fixed.</summary>
/// <param name="Id">The id by which the pin is taken away again: "pin-3".</param>
public sealed record Pinned(string Id, Pin Pin) : IWeekRevision;

public sealed record Unpinned(string Id) : IWeekRevision;
