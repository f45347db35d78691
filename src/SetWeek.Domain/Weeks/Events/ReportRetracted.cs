using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// A report was wrong: it counts as never made. The retraction may arrive before the report that it names. The reason is in a
/// note.
/// </summary>
/// <param name="Retracts">The id of the report that is taken back.</param>
public sealed record ReportRetracted(string Report, string Retracts, OffsetDateTime At, ReportClock? Clock = null) : IFloorReport
{
    string? IFloorReport.Corrects => null;
}

/// <summary>Somebody who was marked absent for a night comes after all.</summary>
public sealed record AbsenceRetracted(string Person, string Night) : IWeekEvent;

/// <summary>The received quantity of a line is no longer accepted.</summary>
public sealed record KitLineUnsettled(string Kit, string Item) : IWeekEvent;
