using System.Globalization;
using Marten;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Snags;
using SetWeek.Service.Pictures;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

public sealed class ReadSnag : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/snags/{snag}", "readSnag",
        "Reads a snag of a week with what was done about it")
    {
        MayUse = ReadSnags.Readers,
        Replies =
        [
            new(200, "The snag of that number", typeof(SnagView)) { HasETag = true },
            Reply.Page("The same as a page, with what the reader may do"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (!int.TryParse(request["snag"], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            || SnagStatus.Find(week.Snags, number) is not { } snag) return Refused.Missing("snag", request["snag"]);
        var view = (await SnagViews.Of(request, session, week, [snag]))[0];
        return (request.WantsPage
            ? await request.Page<SnagPage, SnagPage.Content>(new(
                await session.SnagWeekOf(week, request), view,
                view.Photos.Count == 0 ? [] : await PhotoStore.List(session, week.Id, request.Cancelled),
                await ActsOf(request, session, week)))
            : Answer.Ok(view)).WithVersion(stream.Version);
    }

    private static async Task<SnagPage.Possible?> ActsOf(Request request, IQuerySession session, StoreWeek week) =>
        request.Caller.HasRole(FixSnag.Operation.MayUse) && request.FormToken() is { } token
            ? new SnagPage.Possible(token, request.Caller.Role == Role.Lead, request.NewIds(SnagPage.Possible.IdsNeeded),
                await session.PeopleOf(week, request))
            : null;
}
