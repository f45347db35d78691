using Marten;
using SetWeek.Domain.Closings;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Openings;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Closings;

/// <summary>Only the store reads it: it says who is in the building.</summary>
public sealed class ReadClosing : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/closing", "readClosing",
        "Reads what is left before a night is closed: who is inside, what is half-secured, running, not clean or stopped")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Replies =
        [
            new(200, "What is left, as JSON or as a page (Accept: text/html)", typeof(NightClosing)) { HasETag = true },
            Reply.Page("The same as a page, with the form that the lead sends"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedNight.Of(request, session)).Match(async night =>
        {
            var view = NightClosing.Of(night.Week, night.Crew, night.Sheet, await ReasonsOf(session, night, request.Cancelled));
            return (request.WantsPage
                ? await request.Page<ClosingPage, ClosingPage.Content>(new(
                    await session.TitleOf(night.Week, request.Cancelled),
                    WeekLinks.Of(night.Week.Id, night.Week.Direction, request.Caller.Role, "Tonight"),
                    await session.ReaderOf(night.Week.Id, request), view,
                    request.Caller.Role == Role.Lead && request.FormToken() is { } token
                        ? new ClosingPage.Form(token, request.PlanIds.Next(request.SystemTime)) : null))
                : Answer.Ok(view)).WithVersion(night.Stream.Version);
        }, Task.FromResult);

    private static async Task<IReadOnlyDictionary<string, string>> ReasonsOf(
        IQuerySession session, LoadedNight night, CancellationToken cancelled)
    {
        if (NightRecord.Of(night.Week, night.Sheet.Night).Closed is not { } closed) return new Dictionary<string, string>();
        var notes = await session.LoadManyAsync<Note>(cancelled, [ReasonNotes.DecisionIdOf(night.Week.Id, closed.Report),
            .. closed.Answers.Select(answer => ReasonNotes.ReasonIdOf(night.Week.Id, closed.Report, answer.Check))]);
        return notes.ToDictionary(note => note.Id, note => note.Text);
    }
}
