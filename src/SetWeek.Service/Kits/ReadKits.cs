using Marten;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Kits;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Kits;

public sealed class ReadKits : IQuery
{
    public sealed record View(IReadOnlyList<KitSheet> Kits);

    public static Operation Operation => new("GET", "/weeks/{id}/kits", "readKits",
        "Reads the kits of a week: what comes, what is counted, what is short, and the work that waits")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The kits in the order of the week", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var kits = KitSheet.AllOf(week, await KitPages.CountersFor(session, week, request));
        return (request.WantsPage
            ? await request.Page<KitsPage, KitsPage.Content>(
                new(await KitPages.WeekOf(session, week, request), kits))
            : Answer.Ok(new View(kits))).WithVersion(stream.Version);
    }
}
