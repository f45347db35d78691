using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// The time of a report, decided from the clock of the device and that of the service. A device whose clock is far ahead is not
/// believed: the report then happened when it was received.
/// </summary>
/// <param name="At">The time that is stored as that of the report.</param>
/// <param name="Clock">What the clocks said, if that of the device was ahead.</param>
public readonly record struct ReportTime(OffsetDateTime At, ReportClock? Clock)
{
    /// <param name="stated">The time that the device stated.</param>
    /// <param name="received">The time of the service's clock.</param>
    /// <param name="tolerance">How far ahead a stated time may be and still be believed.</param>
    public static ReportTime Of(OffsetDateTime stated, Instant received, Duration tolerance)
    {
        var whole = Instant.FromUnixTimeSeconds(received.ToUnixTimeSeconds());
        if (stated.ToInstant() <= whole) return new ReportTime(stated, null);
        var clock = new ReportClock(stated, whole.WithOffset(stated.Offset));
        return new ReportTime(stated.ToInstant() - whole > tolerance ? clock.Received : stated, clock);
    }
}

/// <summary>Reads the times of stored reports.</summary>
public static class ReportTimes
{
    /// <summary>The time that counts for the state and for planning: never later than the report was received.</summary>
    public static OffsetDateTime EffectiveAt(this IFloorReport report) => Earlier(report.At, report.Clock);

    public static OffsetDateTime EffectiveAt(this KitCounted count) => Earlier(count.At, count.Clock);

    /// <summary>The time that the device stated. It identifies the report, since a repetition is received later.</summary>
    public static OffsetDateTime StatedAt(this IFloorReport report) => report.Clock?.Stated ?? report.At;

    public static OffsetDateTime StatedAt(this KitCounted count) => count.Clock?.Stated ?? count.At;

    public static OffsetDateTime StatedAt(this QuestionAsked asked) => asked.Clock?.Stated ?? asked.At;

    private static OffsetDateTime Earlier(OffsetDateTime at, ReportClock? clock) =>
        clock is { Received: var received } && received.ToInstant() < at.ToInstant() ? received : at;
}

/// <summary>
/// The place of a count among the counts of a line. A device whose clock is ahead sends many that count from their receipt; its
/// own clock then tells their order.
/// </summary>
/// <param name="Effective">The time that counts.</param>
/// <param name="Stated">The time that the device stated.</param>
/// <param name="Report">The id of the report.</param>
public readonly record struct CountTime(Instant Effective, Instant Stated, string Report)
{
    /// <summary>The id of whoever counted; null in older events.</summary>
    public string? By { get; init; }

    public bool IsAfter(CountTime other) =>
        Effective != other.Effective ? Effective > other.Effective
        : Stated != other.Stated ? Stated > other.Stated
        : string.CompareOrdinal(Report, other.Report) > 0;
}
