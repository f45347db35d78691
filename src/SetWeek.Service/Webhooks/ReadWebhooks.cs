using System.Globalization;
using Marten;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Engineers;

namespace SetWeek.Service.Webhooks;

public sealed class ReadWebhooks : IQuery
{
    public sealed record View(IReadOnlyList<WebhookView> Webhooks);

    /// <param name="PreviousSecretUntil">Until when the secret before signs too.</param>
    /// <param name="Waiting">Deliveries that are not accepted yet, dead letters and what waits behind them included.</param>
    /// <param name="DeadLetters">Deliveries that are tried no more; each holds back its subject.</param>
    /// <param name="LastFault">What went wrong last with a delivery that is still waiting.</param>
    public sealed record WebhookView(
        string Id, string Url, IReadOnlyList<string>? Types, DateTimeOffset Created, DateTimeOffset? PreviousSecretUntil,
        long Waiting, long DeadLetters, string? LastFault);

    public static Operation Operation =>
        new("GET", "/webhooks", "readWebhooks", "Reads the webhooks of the chain and how they do")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Engineer),
        Replies =
        [
            new(200, "The webhooks in the order of their ids, without their secrets, as JSON or as a page (Accept: text/html)",
                typeof(View)),
            Reply.Page("The same as a page, on which head office adds and removes them"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var webhooks = await Webhook.Read(session, id: null, request.Cancelled);
        await using var read = new NpgsqlCommand("""
            select w.id, (select count(*) from setweek.webhook_delivery d where d.tenant_id = w.tenant_id and d.webhook = w.id),
              (select count(*) from setweek.webhook_lane l where l.tenant_id = w.tenant_id and l.webhook = w.id and l.dead),
              (select l.fault from setweek.webhook_lane l where l.tenant_id = w.tenant_id and l.webhook = w.id
                and l.fault is not null order by l.first_tried desc limit 1)
            from setweek.webhook w where w.tenant_id = @tenant
            """);
        read.Parameters.AddWithValue("tenant", request.Caller.Tenant);
        await using var rows = await session.ExecuteReaderAsync(read, request.Cancelled);
        var states = new Dictionary<string, (long Waiting, long Dead, string? Fault)>();
        while (await rows.ReadAsync(request.Cancelled))
            states[rows.GetString(0)] = (rows.GetInt64(1), rows.GetInt64(2), rows.IsDBNull(3) ? null : rows.GetString(3));
        IReadOnlyList<WebhookView> views = [.. webhooks.Select(webhook => Of(webhook, states.GetValueOrDefault(webhook.Id)))];
        if (!request.WantsPage) return Answer.Ok(new View(views));
        var token = request.Caller.HasRole(AddWebhook.Operation.MayUse) ? request.FormToken() : null;
        return await request.Page<WebhooksPage, WebhooksPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role, [.. views.Select(view => new WebhooksPage.Webhook(view.Id, view.Url, view.Types ?? [],
                view.Created.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), view.Waiting, view.DeadLetters,
                view.LastFault))],
            token is null ? null : new(token, request.PlanIds.Next(request.SystemTime))));
    }

    private static WebhookView Of(Webhook webhook, (long Waiting, long Dead, string? Fault) state) => new(
        webhook.Id, webhook.Url, webhook.Types, webhook.Created, webhook.PreviousUntil, state.Waiting, state.Dead, state.Fault);
}
