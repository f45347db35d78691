using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Webhooks;

public sealed class RemoveWebhook : ICommand
{
    public static Operation Operation =>
        new("DELETE", "/webhooks/{id}", "removeWebhook", "Removes a webhook with all that waits for it")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
            Replies = [new(204, "It receives nothing any more, except what is being delivered at this moment")],
        };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await Webhook.Find(session, request.Id, request.Cancelled) is null) return Refused.Missing("webhook", request.Id);
        // The sender removes the lanes that it finds without a webhook; those that wait for nobody are removed here.
        foreach (var table in new[] { "webhook_delivery", "webhook_lane" })
            session.QueueSqlCommand($"delete from setweek.{table} where tenant_id = ? and webhook = ?",
                request.Caller.Tenant, request.Id);
        session.QueueSqlCommand("delete from setweek.webhook where tenant_id = ? and id = ?", request.Caller.Tenant, request.Id);
        return Answer.NoContent;
    }
}
