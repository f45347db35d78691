using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Takes a phone out of use, with every session that is open on it. Repeating it changes nothing.</summary>
public sealed class RemovePhone : ICommand
{
    public static Operation Operation =>
        new("DELETE", "/stores/{id}/phones/{phone}", "removePhone", "Removes a phone of the store, and closes its sessions")
        {
            MayUse = new Permission(AccessScope.Store, Role.Lead), Replies = [new(204, "It is removed")],
        };

    public static Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var (tenant, phone) = (request.Caller.Tenant, request["phone"]);
        session.QueueSqlCommand("""
            delete from setweek.browser_session where tenant_id = ? and phone in
              (select id from setweek.phone where tenant_id = ? and store = ? and id = ?)
            """, tenant, tenant, request.Id, phone);
        session.QueueSqlCommand("delete from setweek.phone where tenant_id = ? and store = ? and id = ?", tenant, request.Id,
            phone);
        return Task.FromResult(Answer.NoContent);
    }
}
