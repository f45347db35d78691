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

    public static Operation Operation =>
        new("GET", "/feed/stream", "streamFeed", "Streams the events of the chain as they happen, in the order of the feed")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
            Query = [new("after", "A cursor of the feed, or \"now\"; the header Last-Event-ID goes before it. Without either, "
                + "the stream starts at the beginning", FeedCursor.Write(0))],
            Replies = [new(200, "Server-sent events: the id is a cursor of the feed, the data one CloudEvent 1.0",
                typeof(string), EventStream.ContentType)],
        };

    public static async Task<OneOf<IAsyncEnumerable<StreamEvent>, Answer>> Open(Request request, IServiceProvider services)
    {
        var watch = services.GetRequiredService<FeedWatch>();
        var given = request.LastEventId ?? request.Query("after");
        var place = given is null or "" ? 0
            : given == FromNow ? await watch.LastPlace(request.Caller.Tenant, request.Cancelled)
            : FeedCursor.Read(given);
        return place is { } known
            ? OneOf<IAsyncEnumerable<StreamEvent>, Answer>.FromT0(watch.Watch(request.Caller.Tenant, known, request.Cancelled))
            : Refused.With(400, "This is not a valid cursor. Send the id of the last event as Last-Event-ID.", "no-cursor");
    }
}
