namespace SetWeek.Domain.Weeks.Events;

/// <summary>The personal data is in the crew file.</summary>
public sealed record CrewJoined(string Person) : IWeekEvent;

/// <param name="Changed">The names of the changed fields, as in a week file. The new values are in the crew file.</param>
public sealed record CrewChanged(string Person, IReadOnlyList<string> Changed) : IWeekEvent;

/// <summary>The reason is not part of the event. It is in a note, which can be erased.</summary>
public sealed record PersonAbsent(string Person, string Night) : IWeekEvent;

/// <summary>
/// The personal data of somebody and the reasons of their absences were erased. The id remains in the events of the week.
/// </summary>
public sealed record PersonErased(string Person) : IWeekEvent;
