using System.Globalization;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.SystemTextJson;
using JasperFx.Events;
using SetWeek.Service.Json;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>
/// The envelope of an event in the feed: CloudEvents 1.0 with the extensions partitionkey, sequence, recordedtime and timezone.
/// </summary>
public static class FeedEnvelope
{
    /// <summary>The media types of a single event and of several.</summary>
    public const string ContentType = "application/cloudevents+json", BatchContentType = "application/cloudevents-batch+json";

    private static readonly CloudEventAttribute
        Partition = CloudEventAttribute.CreateExtension("partitionkey", CloudEventAttributeType.String),
        Sequence = CloudEventAttribute.CreateExtension("sequence", CloudEventAttributeType.String),
        Zone = CloudEventAttribute.CreateExtension("timezone", CloudEventAttributeType.String),
        RecordedAt = CloudEventAttribute.CreateExtension("recordedtime", CloudEventAttributeType.Timestamp);

    private static readonly JsonEventFormatter Formatter = new(JsonFormat.Options, default);

    /// <param name="zone">The IANA time zone in which the local times of the data are; null if there is no store.</param>
    public static CloudEvent Of(IEvent e, Published published, string chain, string? zone) =>
        new([Partition, Sequence, RecordedAt, Zone])
    {
        Id = e.Id.ToString(),
        Source = new Uri($"urn:setweek:{chain}"),
        Type = published.Type,
        Subject = e.StreamKey,
        Time = EventMetadata.HappenedAt(e).ToDateTimeOffset(),
        DataContentType = "application/json",
        Data = published.Data,
        [Partition] = e.StreamKey,
        // The CloudEvents extension compares sequences as text.
        [Sequence] = e.Version.ToString("D10", CultureInfo.InvariantCulture),
        [RecordedAt] = e.Timestamp,
        [Zone] = zone,
    };

    public static ReadOnlyMemory<byte> Encode(CloudEvent e) => Formatter.EncodeStructuredModeMessage(e, out _);

    public static ReadOnlyMemory<byte> EncodeAll(IEnumerable<CloudEvent> events) =>
        Formatter.EncodeBatchModeMessage(events, out _);
}
