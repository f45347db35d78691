namespace SetWeek.Domain.Weeks.Events;

/// <summary>Who they are stands in the crew file.</summary>
public sealed record CrewJoined(string Person) : IWeekEvent;

/// <param name="Changed">Which particulars, by their names in a week file; what they now are stands in the crew file.</param>
public sealed record CrewChanged(string Person, IReadOnlyList<string> Changed) : IWeekEvent;

/// <summary>Why is nobody's business here: a note says it, and can be erased.</summary>
public sealed record PersonAbsent(string Person, string Night) : IWeekEvent;

/// <summary>
/// What was known of somebody, and the reasons of their absences, were erased. Their id stays in the week's events.
/// </summary>
public sealed record PersonErased(string Person) : IWeekEvent;
