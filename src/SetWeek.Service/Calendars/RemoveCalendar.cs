using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Calendars;

public sealed class RemoveCalendar : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/crew/{person}/calendar", "removeCalendar",
        "Revokes the address of a person's calendar")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Replies = [new(204, "There is no calendar at that address any more. A repeated request is answered alike")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session)
    {
        session.QueueSqlCommand("delete from setweek.calendar where tenant_id = ? and week = ? and person = ?",
            request.Caller.Tenant, request.Id, request["person"]);
        return Task.FromResult(Answer.NoContent);
    }
}
