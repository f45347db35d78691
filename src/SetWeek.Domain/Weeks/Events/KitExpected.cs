using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// A new expected arrival time, from the carrier or head office. Of an arrived kit: when its other lines will be counted.
/// </summary>
/// <param name="Eta">Store-local.</param>
public sealed record KitExpected(string Kit, LocalDateTime Eta) : IWeekEvent;

/// <param name="Eta">Store-local; null if unknown.</param>
public sealed record KitDelayed(string Kit, LocalDateTime? Eta) : IWeekEvent;

public sealed record KitArrived(
    string Report, string Kit, OffsetDateTime At, ReportClock? Clock = null, string? Corrects = null) : IFloorReport;

/// <summary>The count that belongs to a report of arrival. A line that is not listed was not counted.</summary>
/// <param name="Confirmed">True if a lead confirmed these lines as complete instead of counting them; null means counted.</param>
/// <param name="Report">The report of arrival. Null in older events: then it is that of the event before.</param>
/// <param name="By">The id of whoever counted or confirmed; null in older events.</param>
public sealed record KitCounted(
    string Kit, OffsetDateTime At, IReadOnlyList<CountedLine> Lines, bool? Confirmed = null, string? Report = null,
    ReportClock? Clock = null, string? By = null) : IWeekEvent;

/// <summary>The total quantity of a line received so far, including damaged pieces.</summary>
public sealed record CountedLine(string Item, int Received, int Damaged);

/// <summary>The store accepts the received quantity of a line, although pieces are missing.</summary>
public sealed record KitLineSettled(string Kit, string Item) : IWeekEvent;
