using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.WalkThroughs;
using SetWeek.Service.Photos;
using SetWeek.Service.Storage;

namespace SetWeek.Service.WalkThroughs;

public sealed class ReadWalkThrough : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/walk-through", "readWalkThrough",
        "Reads the walk-through: the areas from the kerb in, their checks with the last answers, and what is still to look at")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query =
            [new("area", "On the page: the id of the zone to look at; without it, the first that is not looked at", "window")],
        Replies =
        [
            new(200, "The walk-through, as JSON or as a page (Accept: text/html). Who looked, and reasons, are for lead and crew",
                typeof(WalkThrough)) { HasETag = true },
            Reply.Page("The same as a page, with the form of an area for lead and crew"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (request.Query("area") is { } zone && week.Week.Store.Zones.All(known => known.Id != zone))
            return Refused.Missing("zone", zone);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var walk = await request.WalkThroughOf(session, week, crew);
        if (!request.WantsPage) return Answer.Ok(walk).WithVersion(stream.Version);
        return (await request.Page<WalkThroughPage, WalkThroughPage.Content>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Walk-through"),
            await session.ReaderOf(week.Id, request), week.Week.Store.TimeZone,
            request.Now.InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime(), walk, request.Query("area"),
            await request.PhotosOf(session, week.Id),
            request.Caller.Role is Role.Lead or Role.Crew && request.FormToken() is { } token
                ? new WalkThroughPage.Form(token, request.NewIds(2),
                    [.. week.Crew.Where(person => person != request.Caller.Person)
                        .Select(person => new SheetPerson(person, crew.Find(person)?.Name ?? person))
                        .OrderBy(person => person.Name, StringComparer.Ordinal)]) : null))).WithVersion(stream.Version);
    }
}
