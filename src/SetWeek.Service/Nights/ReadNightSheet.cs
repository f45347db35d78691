using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Notifications;
using SetWeek.Service.Pages.Nights;
using SetWeek.Service.Pages.Nights.Pieces;

namespace SetWeek.Service.Nights;

public sealed class ReadNightSheet : IQuery
{
    /// <summary>The view in which a lead records several pieces at once.</summary>
    public const string Record = "record";

    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/sheet", "readNightSheet",
        "Reads a night of the published plan as its crew works it: each piece with its number, what is reported of it, how late "
            + "it may start, what it frees, and what to put off first")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query =
        [
            new("person", "The id of a person of the crew, to whose pieces the sheet is narrowed; without it, all", "p1"),
            new("view", $"\"{Record}\" for the page on which a lead records several pieces at once, "
                + $"\"{NightView.NotSafeView}\" for that on which anybody in the store stops a place", Record),
        ],
        Replies =
        [
            new(200, "The sheet, without pay, ages and reasons, as JSON or as a page (Accept: text/html)", typeof(NightSheet))
                { HasETag = true },
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((await LoadedNight.Of(request, session, request.Query("person"))).TryPickT1(out var refusal, out var night))
            return refusal;
        var view = request.Query("view");
        // The page on which a place is stopped shows nothing of the plan.
        if (view != NightView.NotSafeView && (request.Query("person") is not { } person || person == request.Caller.Person))
            night = night with { Stream = await request.RecordSeen(session, night.Stream) };
        return (request.WantsPage ? await Page(request, await night.View(request, session), view) : Answer.Ok(night.Sheet))
            .WithVersion(night.Stream.Version);
    }

    private static Task<Answer> Page(Request request, NightView view, string? kind) => view switch
    {
        { MayRecord: true } when kind == Record => request.Page<NightRecordPage, NightView>(view),
        { MayStop: true } when kind == NightView.NotSafeView => request.Page<NotSafePage, NightView>(view),
        { Sheet.Order: not null } => request.Page<PersonNightPage, NightView>(view),
        _ => request.Page<NightSheetPage, NightView>(view),
    };
}
