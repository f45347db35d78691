using JasperFx.Events;
using Marten;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Storage;

/// <summary>
/// What every event says beside its own facts: who (user name: an id), recorded at (the server's time stamp), cause (the
/// operation and its key) and happened at, which is this header.
/// </summary>
public static class EventMetadata
{
    public const string HappenedAtHeader = "happenedAt";

    /// <summary>A report from the floor says when the thing happened; everything else happens when it is asked for.</summary>
    public static void HappenedAt(this IDocumentSession session, Instant at) =>
        session.SetHeader(HappenedAtHeader, InstantPattern.ExtendedIso.Format(at));

    public static Instant HappenedAt(IEvent e) => e.GetHeader(HappenedAtHeader) switch
    {
        // A header's text comes back as whatever it looks like.
        DateTime at => Instant.FromDateTimeUtc(at.ToUniversalTime()),
        DateTimeOffset at => Instant.FromDateTimeOffset(at),
        { } text when InstantPattern.ExtendedIso.Parse(text.ToString() ?? "") is { Success: true } at => at.Value,
        _ => Instant.FromDateTimeOffset(e.Timestamp),
    };
}
