using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Notifications;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Nights;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

public sealed class ReadNightSheet : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/sheet", "readNightSheet",
        "Reads a night of the published plan as its crew works it: each piece with its number, what is reported of it, how late "
            + "it may start, what it frees, and what to put off first")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = [new("person", "The id of a person of the crew, to whose pieces the sheet is narrowed; without it, all", "p1")],
        Replies =
        [
            new(200, "The sheet, without pay, ages and reasons, as JSON or as a page (Accept: text/html)", typeof(NightSheet))
                { HasETag = true },
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Week.Nights.FirstOrDefault(night => night.Id == request["night"]) is not { } night)
            return Refused.Missing("night", request["night"]);
        if (week.Published is null)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var person = request.Query("person");
        if (person is not null && !week.Crew.Contains(person)) return Refused.Missing("person", person);
        if (person is null || person == request.Caller.Person) stream = await request.RecordSeen(session, stream);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var margins = await session.MarginsOf(stream, night.Id, crew, request.Cancelled);
        var sheet = NightSheets.Of(week, crew, night, margins, request.Now, person);
        return (request.PreferredType("application/json", "text/html") == "text/html"
            ? Answer.Page(await PageRenderer.Render<NightSheetPage, NightSheetPage.Night>(
                new(await session.TitleOf(week, request.Cancelled), $"/weeks/{week.Id}/plan", sheet)))
            : Answer.Ok(sheet)).WithVersion(stream.Version);
    }
}
