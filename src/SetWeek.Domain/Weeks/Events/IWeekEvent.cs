using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// An event in the stream of a set week. Events identify people only by id. Names, rates, ages, skills, hours, reasons and free
/// text are in documents that can be erased (<see cref="Crews.CrewFile"/>, <see cref="Note"/>).
/// </summary>
public interface IWeekEvent;

/// <summary>
/// A report from the sales floor. The reporting device creates its id, so that a repeated report changes nothing. Reports may
/// arrive late and in any order.
/// </summary>
public interface IFloorReport : IWeekEvent
{
    string Report { get; }

    /// <summary>When the reported thing happened.</summary>
    OffsetDateTime At { get; }

    /// <summary>Given if the clock of the device was ahead of the service's.</summary>
    ReportClock? Clock { get; }

    /// <summary>The report that this one replaces; null for none. The replaced report then counts as never made.</summary>
    string? Corrects { get; }
}

/// <summary>What the clocks said where that of the device was ahead.</summary>
/// <param name="Stated">The time that the device stated.</param>
/// <param name="Received">The time of the service's clock when the report was received.</param>
public sealed record ReportClock(OffsetDateTime Stated, OffsetDateTime Received);
