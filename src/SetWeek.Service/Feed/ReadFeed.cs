using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Marten;
using NodaTime;
using OneOf;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;
using SetWeek.Service.Pages.Engineers;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

public sealed class ReadFeed : IQuery
{
    private const int MaxLimit = 500, DefaultLimit = 100, DefaultOnPage = 25;

    /// <summary>For people. The page encodes it, so that only quotes and control characters are escaped here.</summary>
    private static readonly JsonSerializerOptions Indented =
        new(JsonFormat.Options) { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static Operation Operation => new("GET", "/feed", "readFeed", "Reads the events of the chain, in order")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Engineer),
        Query =
        [
            new("after", "The cursor of the last page read; without it, the feed starts at the beginning, and the page shows "
                + "the newest events", FeedCursor.Write(0)),
            new("before", "On the page: a cursor, before which the newest events are shown", FeedCursor.Write(100)),
            PageLimit.Query("Events", DefaultLimit, MaxLimit),
        ],
        Replies =
        [
            new(200, "CloudEvents 1.0; follow the Link with rel=next for later events, now or later", typeof(FeedEvent[]),
                FeedEnvelope.BatchContentType) { HasLink = true },
            Reply.Page("The newest events first, or with after those that follow, to read"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (CursorOf(request, "after").TryPickT1(out var refusal, out var after)) return refusal;
        if (CursorOf(request, "before").TryPickT1(out refusal, out var before)) return refusal;
        var isPage = request.PreferredType(FeedEnvelope.BatchContentType, "application/json", "text/html") == "text/html";
        if (PageLimit.Of(request, isPage ? DefaultOnPage : DefaultLimit, MaxLimit).TryPickT1(out refusal, out var limit))
            return refusal;
        if (isPage) return await Page(request, session, after, before, limit);

        var page = await FeedPage.ReadAfter(session, after ?? 0, limit, request.Cancelled);
        return new Answer(200)
        {
            Content = FeedEnvelope.EncodeAll(page.Items.Select(item => item.Event)),
            ContentType = FeedEnvelope.BatchContentType,
            Link = $"<{After(page.End, limit)}>; rel=\"next\"",
        };
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, long? after, long? before, int limit)
    {
        IReadOnlyList<FeedItem> items;
        string? later;
        if (after is { } place)
        {
            var page = await FeedPage.ReadAfter(session, place, limit, request.Cancelled);
            (items, later) = (page.Items, page.Items.Count == limit ? After(page.End, limit) : null);
        }
        else
        {
            items = await FeedPage.Show(session, await FeedOrder.ReadBefore(
                session, before, limit, Published.PrivateNames, request.Cancelled), request.Cancelled);
            later = before is not null && items.Count > 0 ? After(items[0].Place, limit) : null;
        }
        var first = items.Count == 0 ? 0 : items.Min(item => item.Place);
        return await request.Page<FeedEventsPage, FeedEventsPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role, after is { } given ? FeedCursor.Write(given) : null, limit, [.. items.Select(Shown)],
            first > 1 ? $"/feed?before={FeedCursor.Write(first)}&limit={limit}" : null, later));
    }

    private static FeedEventsPage.Event Shown(FeedItem item)
    {
        var e = item.Event;
        var zone = e["timezone"] as string;
        var time = Instant.FromDateTimeOffset(e.Time!.Value).InZone(DateTimeZoneProviders.Tzdb[zone ?? DateTimeZone.Utc.Id]);
        return new FeedEventsPage.Event(e.Type!, e.Subject!, AddressOf(e.Subject!),
            ((string)e["sequence"]!).TrimStart('0'), Text(time.LocalDateTime), zone is null ? "" : $"{zone}.",
            Text(Instant.FromDateTimeOffset((DateTimeOffset)e["recordedtime"]!).InUtc().LocalDateTime),
            JsonSerializer.Serialize(e.Data, Indented));
    }

    private static string Text(LocalDateTime time) => time.ToString("uuuu-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private static string? AddressOf(string subject) => subject.Split('/') switch
    {
        ["week", var week] => $"/weeks/{week}/plan",
        ["direction", var direction] => $"/directions/{direction}",
        ["store", var store] => $"/stores/{store}",
        _ => null,
    };

    private static string After(long place, int limit) => $"/feed?after={FeedCursor.Write(place)}&limit={limit}";

    private static OneOf<long?, Answer> CursorOf(Request request, string name)
    {
        if (request.Query(name) is not { Length: > 0 } given) return (long?)null;
        return FeedCursor.Read(given) is { } place ? (long?)place
            : Refused.With(400, "This is not a valid cursor. Follow the Link of the previous page.", "no-cursor");
    }
}
