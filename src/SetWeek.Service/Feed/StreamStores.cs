using System.Runtime.CompilerServices;
using Marten;
using OneOf;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Json;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>
/// Tells a page of stores when to look again. It says where something has happened and not what, and only of the stores that the
/// caller reaches. So it is for readers who may not read the feed, too (docs/decisions/ledger.md).
/// </summary>
public sealed class StreamStores : IStream
{
    /// <param name="Subject">The week, store or direction: "week/first-rain.harbour-street".</param>
    private sealed record Happened(string Subject);

    public static Operation Operation => new("GET", "/feed/stores", "streamStores",
        "Streams in which weeks of the caller's stores something happens, as it happens")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Region, Role.Lead),
        Query = [StreamFeed.After],
        Replies = [new(200, "Server-sent events: the id is a cursor of the feed, the data the subject of an event in it",
            typeof(string), EventStream.ContentType)],
    };

    public static async Task<OneOf<IAsyncEnumerable<StreamEvent>, Answer>> Open(Request request, IServiceProvider services)
    {
        var (watch, store) = (services.GetRequiredService<FeedWatch>(), services.GetRequiredService<IDocumentStore>());
        return (await StreamFeed.StartOf(request, watch)).MapT0(
            place => Events(watch, store, request.Caller, place, request.Cancelled));
    }

    private static async IAsyncEnumerable<StreamEvent> Events(FeedWatch watch, IDocumentStore store, Caller caller, long place,
        [EnumeratorCancellation] CancellationToken cancelled)
    {
        var reached = new Dictionary<string, bool>();
        await foreach (var watched in watch.Watch(caller.Tenant, place, cancelled))
        {
            if (watched.Subject is not { } subject) continue;
            if (!reached.TryGetValue(subject, out var isReached))
                reached[subject] = isReached = await IsReached(store, caller, subject, cancelled);
            if (isReached)
                yield return StreamEvent.Of(FeedCursor.Write(watched.Place), JsonFormat.Bytes(new Happened(subject)));
        }
    }

    private static async Task<bool> IsReached(IDocumentStore store, Caller caller, string subject, CancellationToken cancelled)
    {
        switch (subject.Split('/', 2))
        {
            case ["week", var week]:
                await using (var session = store.QuerySession(caller.Tenant))
                    return await session.StoreOf(week, cancelled) is { } of && caller.MayAccess(of);
            case ["store", var of]: return caller.MayAccess(of);
            case ["direction", _]: return true; // It is for every store.
            default: return false;
        }
    }
}
