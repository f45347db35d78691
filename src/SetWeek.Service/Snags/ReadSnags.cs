using Marten;
using SetWeek.Domain.Snags;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Snags;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

public sealed class ReadSnags : IQuery
{
    public sealed record View(IReadOnlyList<SnagView> Snags);

    /// <summary>Whoever may read the snags of a week.</summary>
    public static Permission Readers => new(AccessScope.Week, Role.Lead, Role.Crew, Role.HeadOffice, Role.Region);

    public static Operation Operation => new("GET", "/weeks/{id}/snags", "readSnags", "Reads the snags of a week")
    {
        MayUse = Readers,
        Replies =
        [
            new(200, "The snags by number, those that are put right too", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page: what is open first, by area"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var snags = await SnagViews.Of(request, session, week, week.AllSnags());
        return (request.WantsPage
            ? await request.Page<SnagListPage, SnagListPage.Content>(
                new(await session.SnagWeekOf(week, request), snags, request.Caller.HasRole(RaiseSnag.Operation.MayUse)))
            : Answer.Ok(new View(snags))).WithVersion(stream.Version);
    }
}
