using System.Globalization;
using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Directions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class ReadDirection : IQuery
{
    /// <summary>How many weeks of a store are searched for the caller's own.</summary>
    private const int MostWeeks = 60;

    public static Operation Operation =>
        new("GET", "/directions/{id}", "readDirection", "Reads the current version of a direction")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query =
        [
            new("display", "On the page: the display to show", "canopy"),
            new("since", "On the page: the version with which it is compared; the one before unless given", "1", typeof(int)),
        ],
        Replies =
        [
            new(200, "The direction, as JSON or as a page (Accept: text/html)", typeof(Direction)) { HasETag = true },
            Reply.Page("Its displays and what has changed, or one display with its pieces of work and technique cards"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (await Streams.Direction(session, request.Id, request.Cancelled) is not { State: { } direction, Version: var version })
            return Refused.Missing("direction", request.Id);
        var answer = request.WantsPage ? await Page(request, session, direction, version) : Answer.Ok(direction);
        return answer.IsRefusal ? answer : answer.WithVersion(version);
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, Direction direction, long version)
    {
        var since = version - 1;
        if (request.Query("since") is { Length: > 0 } given
            && (!long.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out since)
                || since < 1 || since >= version))
            return Refused.With(400, $"since must be a version before {version}.", "no-version");
        var before = since == 0 ? null : await Streams.DirectionAt(session, direction.Id, since, request.Cancelled);
        var changes = before is null ? [] : DirectionChange.Between(before, direction);
        var (caller, address) = (request.Caller, $"/directions/{direction.Id}");
        var week = caller.Role is Role.Crew or Role.Lead ? await WeekOf(request, session, direction.Id) : null;
        var links = week is not null ? WeekLinks.Of(week, direction.Id, caller.Role, "Direction")
            : ChainLinks.Of(caller.Role, "Directions");
        if (request.Query("display") is not { Length: > 0 } id)
            return await request.Page<DirectionPage, DirectionPage.Content>(
                new(caller.Tenant, links, address, direction, version, since, changes)
                {
                    Import = DirectionBody.FormFor(request),
                });
        return direction.Displays.FirstOrDefault(known => known.Id == id) is not { } display ? Refused.Missing("display", id)
            : await request.Page<DirectedDisplayPage, DirectedDisplayPage.Content>(
                new(links, address, direction, display, version, since, changes)
                {
                    Ask = week is null ? null : $"/weeks/{week}/questions?display={display.Id}",
                });
    }

    /// <summary>
    /// The open week that the reader builds by the direction: of the crew the latest that they are in, of a lead the only one of
    /// their stores. Null if there is none.
    /// </summary>
    private static async Task<string?> WeekOf(Request request, IQuerySession session, string direction)
    {
        var (caller, cancelled) = (request.Caller, request.Cancelled);
        var weeks = await StreamList.Weeks(
            session, caller.MayAccess(Caller.AnyStore) ? null : caller.Stores, "", MostWeeks, cancelled);
        var (summaries, _) = await Streams.Summaries(session, weeks, cancelled);
        var open = new List<string>();
        foreach (var summary in summaries.Where(week => week.Direction == direction).OrderByDescending(week => week.Launch))
        {
            if ((await Streams.Week(session, summary.Id, cancelled)).State is not { HandedOver: null } week) continue;
            if (caller.Role == Role.Lead) open.Add(week.Id);
            else if (week.Crew.Contains(caller.Person)) return week.Id;
            if (open.Count > 1) return null;
        }
        return open.SingleOrDefault();
    }
}
