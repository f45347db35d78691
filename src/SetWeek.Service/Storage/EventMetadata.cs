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

    /// <summary>
    /// An event with metadata of its own, for a session that appends events of several requests. It must have none of its own.
    /// </summary>
    public static IEvent EventOf(this IDocumentSession session, object data, string person, string cause, string trace,
        Instant at)
    {
        var e = session.Events.BuildEvent(data);
        (e.UserName, e.CausationId, e.CorrelationId) = (person, cause, trace);
        e.SetHeader(HappenedAtHeader, InstantPattern.ExtendedIso.Format(at));
        return e;
    }

    public static Instant HappenedAt(IEvent e) => e.GetHeader(HappenedAtHeader) switch
    {
        // The deserializer turns header text that looks like a time into one.
        DateTime time => Instant.FromDateTimeUtc(time.ToUniversalTime()),
        DateTimeOffset time => Instant.FromDateTimeOffset(time),
        { } text when InstantPattern.ExtendedIso.Parse(text.ToString() ?? "") is { Success: true } parsed => parsed.Value,
        _ => Instant.FromDateTimeOffset(e.Timestamp),
    };
}
