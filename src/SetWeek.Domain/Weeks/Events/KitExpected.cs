using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>The carrier, or head office, says when.</summary>
public sealed record KitExpected(string Kit, LocalDateTime Eta) : IWeekEvent;

/// <param name="Eta">Store-local; null: nobody knows when.</param>
public sealed record KitDelayed(string Kit, LocalDateTime? Eta) : IWeekEvent;

public sealed record KitArrived(string Report, string Kit, OffsetDateTime At) : IFloorReport;

/// <summary>Counted in against its list, as the report of its arrival says. A line that is not named was not counted.</summary>
public sealed record KitCounted(string Kit, OffsetDateTime At, IReadOnlyList<CountedLine> Lines) : IWeekEvent;

/// <summary>All that has come of a line so far, broken pieces included.</summary>
public sealed record CountedLine(string Item, int Received, int Damaged);

/// <summary>The store goes on with what there is of a line.</summary>
public sealed record KitLineSettled(string Kit, string Item) : IWeekEvent;
