using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Nights;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>One address for every night of a week: a phone opens it, whatever the date is.</summary>
public sealed class FindTonight : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/tonight", "findTonight",
        "Leads to the sheet of the night that is open, or of the next one; a member of the crew to the own pieces")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(303, "The sheet"),
            Reply.Page("No plan is published yet (Accept: text/html; otherwise 404)"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (Tonight.NightOf(week, request.Now) is { } night)
            return Answer.SeeOther($"/weeks/{week.Id}/nights/{night}/sheet"
                + (request.Caller.Role == Role.Crew && week.Crew.Contains(request.Caller.Person)
                    ? $"?person={request.Caller.Person}" : ""));
        return request.WantsPage
            ? await request.Page<NoNightPage, NoNightPage.Content>(new(
                await session.TitleOf(week, request.Cancelled),
                WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Tonight"),
                await session.ReaderOf(week.Id, request)))
            : Refused.With(404, "No plan of this week is published yet.", "nothing-published");
    }
}
