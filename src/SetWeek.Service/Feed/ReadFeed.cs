using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Feed;

public sealed class ReadFeed : IQuery
{
    private const int MaxLimit = 500, DefaultLimit = 100;

    public static Operation Operation => new("GET", "/feed", "readFeed", "Reads the events of the chain, in order")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query = [new("after", "The cursor of the last page read; without it, the feed starts at the beginning",
            FeedCursor.Write(0)),
            PageLimit.Query("Events", DefaultLimit, MaxLimit)],
        Replies = [new(200, "CloudEvents 1.0; follow the Link with rel=next for later events, now or later",
            typeof(FeedEvent[]), FeedEnvelope.BatchContentType) { HasLink = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((request.Query("after") is { Length: > 0 } after ? FeedCursor.Read(after) : 0) is not { } place)
            return Refused.With(400, "This is not a valid cursor. Follow the Link of the previous page.", "no-cursor");
        if (PageLimit.Of(request, DefaultLimit, MaxLimit).TryPickT1(out var refusal, out var limit)) return refusal;

        var page = await FeedPage.ReadAfter(session, place, limit, request.Cancelled);
        return new Answer(200)
        {
            Content = FeedEnvelope.EncodeAll(page.Items.Select(item => item.Event)),
            ContentType = FeedEnvelope.BatchContentType,
            Link = $"</feed?after={FeedCursor.Write(page.End)}&limit={limit}>; rel=\"next\"",
        };
    }
}
