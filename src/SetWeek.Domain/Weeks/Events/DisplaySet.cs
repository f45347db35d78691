using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A display has this commitment, value and alternate. A display that the week did not have is added.</summary>
public sealed record DisplaySet(Display Display) : IWeekRevision;

/// <summary>The week has the display no more. Its tasks are dropped by <see cref="TasksRevised"/>.</summary>
public sealed record DisplayDropped(string Display) : IWeekRevision;

/// <summary>The store has decided whether a display is built, or its alternate, or neither.</summary>
public sealed record DisplayChoiceSet(string Display, DisplayChoice Choice) : IWeekRevision;

/// <summary>
/// Build: the planner builds the display, or its alternate where that is better. UseAlternate: the alternate is built. LeaveOut:
/// neither is built.
/// </summary>
public enum DisplayChoice { Build, UseAlternate, LeaveOut }
