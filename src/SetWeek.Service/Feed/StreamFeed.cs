using System.Runtime.CompilerServices;
using OneOf;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;

namespace SetWeek.Service.Feed;

public sealed class StreamFeed : IStream
{
    private const string FromNow = "now";

    /// <summary>From where on a stream of the feed is wanted.</summary>
    public static QueryParameter After { get; } = new("after",
        $"A cursor of the feed, or \"{FromNow}\"; the header Last-Event-ID "
        + "goes before it. Without either, the stream starts at the beginning", FeedCursor.Write(0));

    public static Operation Operation =>
        new("GET", "/feed/stream", "streamFeed", "Streams the events of the chain as they happen, in the order of the feed")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
            Query = [After],
            Replies = [new(200, "Server-sent events: the id is a cursor of the feed, the data one CloudEvent 1.0",
                typeof(string), EventStream.ContentType)],
        };

    public static async Task<OneOf<IAsyncEnumerable<StreamEvent>, Answer>> Open(Request request, IServiceProvider services)
    {
        var watch = services.GetRequiredService<FeedWatch>();
        return (await StartOf(request, watch)).MapT0(place => Events(watch, request.Caller.Tenant, place, request.Cancelled));
    }

    /// <summary>The place after which a request wants a stream of the feed.</summary>
    internal static async Task<OneOf<long, Answer>> StartOf(Request request, FeedWatch watch)
    {
        var given = request.LastEventId ?? request.Query(After.Name);
        var place = given is null or "" ? 0
            : given == FromNow ? await watch.LastPlace(request.Caller.Tenant, request.Cancelled)
            : FeedCursor.Read(given);
        return place is { } known ? known
            : Refused.With(400, "This is not a valid cursor. Send the id of the last event as Last-Event-ID.", "no-cursor");
    }

    private static async IAsyncEnumerable<StreamEvent> Events(
        FeedWatch watch, string chain, long place, [EnumeratorCancellation] CancellationToken cancelled)
    {
        await foreach (var watched in watch.Watch(chain, place, cancelled)) yield return watched.Event;
    }
}
