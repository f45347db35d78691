using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>Somebody of the crew found it not safe to work. Nothing starts there until a lead lifts the stop.</summary>
/// <param name="Night">The night in which nothing starts.</param>
/// <param name="Zone">The zone in which nothing starts; null: the whole store.</param>
public sealed record WorkStopped(
    string Report, string Night, string? Zone, OffsetDateTime At, ReportClock? Clock = null, string? Corrects = null)
    : IFloorReport;

/// <summary>A lead found it safe again.</summary>
/// <param name="Stop">The id of the report that stopped the work.</param>
/// <param name="By">The id of the lead.</param>
public sealed record StopLifted(string Stop, string By) : IWeekEvent;
