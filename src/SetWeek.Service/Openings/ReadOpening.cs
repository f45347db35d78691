using Marten;
using SetWeek.Domain.Openings;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Memos;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Openings;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Openings;

/// <summary>Only the store reads it: it says who is late.</summary>
public sealed class ReadOpening : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/opening", "readOpening",
        "Reads who is there in a night, and what is said aloud when it is opened")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Replies =
        [
            new(200, "The people of the night and its briefing, as JSON or as a page (Accept: text/html)", typeof(NightOpening))
                { HasETag = true },
            Reply.Page("The same as a page, with the forms that the reader may send"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedNight.Of(request, session)).Match(async night =>
        {
            var published = night.Week.Published!;
            var opening = NightOpening.Of(night.Week, night.Crew, night.Sheet, published.Replaced is { } before
                ? IssueChanges.Of(night.Week, night.Crew, night.Sheet.Night, before, published.Plan) : []);
            return (request.WantsPage
                ? await request.Page<OpeningPage, OpeningPage.Content>(new(
                    await session.TitleOf(night.Week, request.Cancelled),
                    WeekLinks.Of(night.Week.Id, night.Week.Direction, request.Caller.Role, "Tonight"),
                    await session.ReaderOf(night.Week.Id, request), opening,
                    request.FormToken() is { } token ? new OpeningPage.Forms(token, request.Caller.Role == Role.Lead,
                        request.Caller.Person, () => request.PlanIds.Next(request.SystemTime)) : null)
                {
                    Memos = await session.SafetyMemosOf(night.Week, night.Crew, request,
                        $"/weeks/{night.Week.Id}/nights/{night.Sheet.Night}/opening"),
                })
                : Answer.Ok(opening)).WithVersion(night.Stream.Version);
        }, Task.FromResult);
}
