using System.Globalization;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.SystemTextJson;
using JasperFx.Events;
using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

public sealed class ReadFeed : IQuery
{
    private const string ContentType = "application/cloudevents-batch+json";
    private const int MaxLimit = 500, DefaultLimit = 100;

    private static readonly CloudEventAttribute
        Partition = CloudEventAttribute.CreateExtension("partitionkey", CloudEventAttributeType.String),
        Sequence = CloudEventAttribute.CreateExtension("sequence", CloudEventAttributeType.String),
        RecordedAt = CloudEventAttribute.CreateExtension("recordedtime", CloudEventAttributeType.Timestamp);

    private static readonly JsonEventFormatter Formatter = new(JsonFormat.Options, default);

    public static Operation Operation => new("GET", "/feed", "readFeed", "Reads the events of the chain, in order")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query = [new("after", "The cursor of the last page read; without it, the feed starts at the beginning",
            FeedCursor.Write(0)),
            new("limit", $"Events on a page, 1 to {MaxLimit}", DefaultLimit.ToString(CultureInfo.InvariantCulture))],
        Replies = [new(200, "CloudEvents 1.0; follow the Link with rel=next for later events, now or later",
            typeof(object[]), ContentType)],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((request.Query("after") is { Length: > 0 } after ? FeedCursor.Read(after) : 0) is not { } place)
            return Refused.With(400, "This is not a valid cursor. Follow the Link of the previous page.", "no-cursor");
        if ((request.Query("limit") is { } given ? Limit(given) : DefaultLimit) is not { } limit)
            return Refused.With(400, $"The limit must be a whole number from 1 to {MaxLimit}.", "no-limit");

        var events = new List<CloudEvent>();
        while (events.Count < limit
            && await FeedOrder.ReadAfter(session, place, limit - events.Count, request.Cancelled) is { Count: > 0 } next)
        {
            var sequences = next.Select(entry => entry.Sequence).ToArray();
            var stored = (await session.Events.QueryAllRawEvents().Where(e => e.Sequence.IsOneOf(sequences))
                .ToListAsync(request.Cancelled))
                .ToDictionary(e => e.Sequence);
            events.AddRange(next.Select(entry => Of(stored[entry.Sequence], request.Caller.Tenant)).OfType<CloudEvent>());
            place = next[^1].Place;
        }

        var content = Formatter.EncodeBatchModeMessage(events, out _);
        return new Answer(200)
        {
            Content = content, ContentType = ContentType,
            Link = $"</feed?after={FeedCursor.Write(place)}&limit={limit}>; rel=\"next\"",
        };
    }

    private static CloudEvent? Of(IEvent e, string tenant) => Published.Of(e.Data) is not { } published ? null
        : new CloudEvent([Partition, Sequence, RecordedAt])
        {
            Id = e.Id.ToString(),
            Source = new Uri($"urn:setweek:{tenant}"),
            Type = published.Type,
            Subject = e.StreamKey,
            Time = EventMetadata.HappenedAt(e).ToDateTimeOffset(),
            DataContentType = "application/json",
            Data = published.Data,
            [Partition] = e.StreamKey,
            // The CloudEvents extension compares sequences as text.
            [Sequence] = e.Version.ToString("D10", CultureInfo.InvariantCulture),
            [RecordedAt] = e.Timestamp,
        };

    private static int? Limit(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var limit) && limit is >= 1 and <= MaxLimit
            ? limit : null;
}
