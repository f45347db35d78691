using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Webhooks;

public sealed class DropDeadLetters : ICommand
{
    public static Operation Operation => new("POST", "/webhooks/{id}/dead-letters/drop", "dropDeadLetters",
        "Gives dead letters up, those of one subject or all")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(DeadLetterBody), DeadLetterBody.Example, IsOptional: true),
        Replies = [new(204, "They are never delivered; later events of their subjects are delivered now")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => DeadLetterBody.Handle(request, session,
        """
        delete from setweek.webhook_delivery d using setweek.webhook_lane l
        where (d.tenant_id, d.webhook, d.subject) = (l.tenant_id, l.webhook, l.subject)
          and d.place = (select min(o.place) from setweek.webhook_delivery o
            where (o.tenant_id, o.webhook, o.subject) = (l.tenant_id, l.webhook, l.subject)) and
        """,
        """
        update setweek.webhook_lane l set dead = false, attempts = 0, first_tried = null, fault = null, due = now() where
        """);
}
