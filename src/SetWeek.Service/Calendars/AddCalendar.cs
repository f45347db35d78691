using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Crews;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Calendars;

public sealed class AddCalendar : ICommand
{
    /// <param name="Address">The path of the calendar. It is shown here only.</param>
    public sealed record Added(string Person, string Address);

    public static Operation Operation => new("POST", "/weeks/{id}/crew/{person}/calendar", "addCalendar",
        "Makes a secret address at which a calendar program reads the person's shifts")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Replies =
        [
            new(201, "The address, which is not shown again. An earlier one of this person ends", typeof(Added)),
            Reply.Page("The same as a page (Accept: text/html)"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var person = request["person"];
        if ((await session.CrewOf(request.Id, request.Cancelled)).Find(person) is not { } member)
            return Refused.Missing("person", person);
        var secret = CalendarSecret.New();
        session.QueueSqlCommand("""
            insert into setweek.calendar (tenant_id, week, person, secret_hash, created) values (?, ?, ?, ?, ?)
            on conflict (tenant_id, week, person) do update set secret_hash = excluded.secret_hash, created = excluded.created
            """, request.Caller.Tenant, request.Id, person, CalendarSecret.HashOf(secret), request.SystemTime.ToDateTimeOffset());
        var address = CalendarSecret.AddressOf(secret);
        var answer = request.WantsPage
            ? await request.Page<CalendarLinkPage, CalendarLinkPage.Made>(
                new(member.Name, $"{request.Origin}{address}", $"/weeks/{request.Id}"))
            : Answer.Created(address, new Added(person, address));
        // A stored answer would contain the secret.
        return answer with { LeavesKeyFree = true };
    }
}
