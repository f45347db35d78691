using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>A lead, who stands beside the person, lets them choose a PIN on the store's phone. A forgotten PIN is replaced so.</summary>
public sealed class AllowPin : ICommand
{
    private sealed record Body(string Person);

    public static Operation Operation =>
        new("POST", "/stores/{id}/pin-permissions", "allowPin", "Lets a person choose a PIN on the store's phone, once")
        {
            MayUse = new Permission(AccessScope.Store, Role.Lead),
            Body = new(typeof(Body), """{"person": "c1"}"""),
            Replies = [new(204, "They may, for ten minutes")],
        };

    public static Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(json => new Body(json.Id("person"))).TryPickT1(out var faults, out var body))
            return Task.FromResult(Refused.For(faults));
        var until = request.SystemTime.ToDateTimeOffset() + Pins.PermissionLifetime;
        session.QueueSqlCommand("""
            insert into setweek.pin_permission (tenant_id, store, person, until) values (?, ?, ?, ?)
            on conflict (tenant_id, store, person) do update set until = excluded.until
            """, request.Caller.Tenant, request.Id, body.Person, until);
        return Task.FromResult(Answer.NoContent);
    }
}
