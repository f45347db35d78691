using Marten;
using SetWeek.Domain.Stores;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Stores;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Stores;

public sealed class ReadStore : IQuery
{
    public static Operation Operation => new("GET", "/stores/{id}", "readStore", "Reads a store")
    {
        MayUse = Permission.Everybody(AccessScope.Store),
        Replies =
        [
            new(200, "The store, as JSON or as a page with its weeks (Accept: text/html)", typeof(StoreProfile))
                { HasETag = true },
            Reply.Page("The store and its weeks as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await Streams.Store(session, request.Id, request.Cancelled) is not { State: { } store, Version: var version }
            ? Refused.Missing("store", request.Id)
            : request.WantsPage
                ? await request.Page<StorePage, StorePage.Content>(new(store,
                    await WeeksOf(request, session), request.Caller.Role == Role.Lead,
                    request.Caller.Role is Role.Lead or Role.HeadOffice))
                : Answer.Ok(store).WithVersion(version);

    private static async Task<IReadOnlyList<StorePage.Week>> WeeksOf(Request request, IQuerySession session)
    {
        var (weeks, _) = await Streams.Summaries(session, await StoreWeeks.Of(session, request.Id, request.Cancelled),
            request.Cancelled);
        var directions = new Dictionary<string, string>();
        foreach (var direction in weeks.Select(week => week.Direction).Distinct())
            directions[direction] = (await Streams.Direction(session, direction, request.Cancelled)).State?.Name ?? direction;
        return [.. weeks.OrderByDescending(week => week.Launch).Select(week => new StorePage.Week(
            week.Id, directions[week.Direction], week.Launch, week.Stage, week.Waiting.Count, week.Blocks.Count))];
    }
}
