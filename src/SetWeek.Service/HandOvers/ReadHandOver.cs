using Marten;
using SetWeek.Domain.HandOvers;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.WalkThroughs;
using SetWeek.Service.Photos;
using SetWeek.Service.Snags;
using SetWeek.Service.Storage;
using SetWeek.Service.WalkThroughs;

namespace SetWeek.Service.HandOvers;

public sealed class ReadHandOver : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/hand-over", "readHandOver",
        "Reads whether the store has accepted the finished week, what is open, and what keeps the week from being handed over")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The hand-over, as JSON or as a page (Accept: text/html). Send its ETag as If-Match", typeof(WeekHandOver))
                { HasETag = true },
            Reply.Page("The same as a page, with the forms that the lead sends"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var view = new WeekHandOver(week.Id, HandOverState.Of(week), await AcceptedOf(request, session, week));
        if (!request.WantsPage) return Answer.Ok(view).WithVersion(stream.Version);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return (await request.Page<HandOverPage, HandOverPage.Content>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Hand-over"),
            await session.ReaderOf(week.Id, request), week.Week.Store.TimeZone,
            await request.WalkThroughOf(session, week, crew), view, await SnagTexts(request, session, week),
            await request.PhotosOf(session, week.Id),
            request.Caller.Role == Role.Lead && request.FormToken() is { } token
                ? new HandOverPage.Forms(token, $"\"{stream.Version}\"", request.NewIds(2)) : null)))
            .WithVersion(stream.Version);
    }

    /// <summary>What is wrong, by the number of a snag, for those who may read snags.</summary>
    private static async Task<IReadOnlyDictionary<int, string>> SnagTexts(
        Request request, IQuerySession session, StoreWeek week) =>
        !request.Caller.HasRole(ReadSnags.Readers) ? new Dictionary<int, string>()
            : (await SnagViews.Of(request, session, week, [.. week.AllSnags().Where(snag => snag.IsOpen)]))
                .Where(snag => snag.What is not null).ToDictionary(snag => snag.Number, snag => snag.What!);

    private static async Task<Acceptance?> AcceptedOf(Request request, IQuerySession session, StoreWeek week)
    {
        if (week.HandedOver is not { } accepted) return null;
        var ids = HandOverDecisions.NotesOf(week.Id, accepted.HandOver);
        var notes = (await session.LoadManyAsync<Note>(request.Cancelled, ids.Name, ids.Morning))
            .ToDictionary(note => note.Id, note => note.Text);
        var mayKnow = request.Caller.Role is Role.Lead or Role.HeadOffice;
        return new Acceptance(accepted.HandOver, accepted.At, mayKnow ? notes.GetValueOrDefault(ids.Name) : null,
            request.Caller.Role is Role.Lead or Role.Crew ? notes.GetValueOrDefault(ids.Morning) : null,
            accepted.OpenChecks, accepted.Snags) { Photos = accepted.Photos ?? [] };
    }
}
