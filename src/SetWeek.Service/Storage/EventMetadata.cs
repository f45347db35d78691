using JasperFx.Events;
using Marten;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Storage;

/// <summary>
/// The metadata of every event: the person (user name, an id), the time of recording (the time stamp of the database), the cause
/// (operation and idempotency key) and the time at which it happened, which is stored in a header.
/// </summary>
public static class EventMetadata
{
    public const string HappenedAtHeader = "happenedAt";

    /// <summary>
    /// Sets when the events of the session happened. A report states that time; all else happens at the request.
    /// </summary>
    public static void HappenedAt(this IDocumentSession session, Instant at) =>
        session.SetHeader(HappenedAtHeader, InstantPattern.ExtendedIso.Format(at));

    public static Instant HappenedAt(IEvent e) => e.GetHeader(HappenedAtHeader) switch
    {
        // The deserializer turns header text that looks like a time into one.
        DateTime time => Instant.FromDateTimeUtc(time.ToUniversalTime()),
        DateTimeOffset time => Instant.FromDateTimeOffset(time),
        { } text when InstantPattern.ExtendedIso.Parse(text.ToString() ?? "") is { Success: true } parsed => parsed.Value,
        _ => Instant.FromDateTimeOffset(e.Timestamp),
    };
}
