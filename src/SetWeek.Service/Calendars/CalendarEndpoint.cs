using Marten;
using NodaTime;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Calendars;

/// <summary>The calendar of one person, for whoever knows its secret address.</summary>
public static class CalendarEndpoint
{
    private static readonly Operation Operation = new("GET", CalendarSecret.Folder + "/{calendar}", "readCalendar",
        "Reads the published shifts of one person, for a calendar program")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = "Calendars",
        Replies = [new(200, "iCalendar (RFC 5545), an event for each shift", typeof(string), "text/calendar")],
    };

    private sealed record Owner(string Tenant, string Week, string Person);

    public static void Map(IEndpointRouteBuilder routes) => routes.Open(Operation, Read);

    private static async Task<Answer> Read(HttpContext http)
    {
        var missing = Refused.With(404, "There is no calendar at this address. Ask your lead for a new one.");
        var (services, cancelled) = (http.RequestServices, http.RequestAborted);
        if (CalendarSecret.In((string)http.Request.RouteValues["calendar"]!) is not { } secret
            || await Find(services.GetRequiredService<NpgsqlDataSource>(), secret, cancelled) is not { } owner) return missing;

        await using var session = services.GetRequiredService<IDocumentStore>().QuerySession(owner.Tenant);
        var stream = await Streams.Week(session, owner.Week, cancelled);
        if (stream.State is not { } week
            || (await session.CrewOf(owner.Week, cancelled)).Find(owner.Person) is null) return missing;
        var direction = await Streams.Direction(session, week.Direction, cancelled);
        var store = await Streams.Store(session, week.Week.Store.Id, cancelled);
        // Plans that were published before their time was recorded are older than all others.
        return Answer.Text(PersonCalendar.Of(owner.Tenant, owner.Person, week.Week, week.Published?.Plan,
            new PersonCalendar.Titles(direction.State?.Name ?? week.Direction, store.State?.Name ?? week.Week.Store.Id),
            week.Published?.Issue.Number ?? 0, week.Published?.Issue.At ?? NodaConstants.UnixEpoch), PersonCalendar.ContentType);
    }

    private static async Task<Owner?> Find(NpgsqlDataSource database, string secret, CancellationToken cancelled)
    {
        await using var find = database.CreateCommand(
            "select tenant_id, week, person from setweek.calendar where secret_hash = $1");
        find.Parameters.AddWithValue(CalendarSecret.HashOf(secret));
        await using var rows = await find.ExecuteReaderAsync(cancelled);
        return await rows.ReadAsync(cancelled) ? new Owner(rows.GetString(0), rows.GetString(1), rows.GetString(2)) : null;
    }
}
