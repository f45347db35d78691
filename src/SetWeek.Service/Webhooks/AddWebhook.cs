using System.Text.RegularExpressions;
using Marten;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Engineers;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Webhooks;

public sealed partial class AddWebhook : ICommand
{
    private const int MostTypes = 100, LongestUrl = 2000;

    private sealed record Body(string Id, string Url, IReadOnlyList<string>? Types);

    /// <param name="Secret">It signs the deliveries. It is shown here only; absent from the answer to a repeated request.</param>
    public sealed record Added(string Id, string Url, IReadOnlyList<string>? Types, string? Secret);

    public static Operation Operation =>
        new("POST", "/webhooks", "addWebhook", "Adds an address that receives the events of the chain from now on")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
            Body = new(typeof(Body), """
                {"id": "ops-board", "url": "https://board.quillmere.example/setweek", "types": ["setweek.work-blocked.v1"]}
                """),
            Replies =
            [
                new(201, "The webhook with its secret, which is not shown again", typeof(Added)),
                Reply.Page("The same as a page (Accept: text/html)") with { Status = 201 },
            ],
        };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(json => Read(json, request.Outbound)).TryPickT1(out var faults, out var body))
            return Refused.For(faults);
        if (await Webhook.Find(session, body.Id, request.Cancelled) is not null)
            return Refused.With(409, $"There is a webhook \"{body.Id}\" already. Give this one another id, or remove that one.",
                "webhook-exists");
        // It receives what happens from now on. A transaction that is still open will be given a later place.
        var last = await FeedOrder.Last(session, request.Cancelled);
        var secret = WebhookSecret.New();
        session.QueueSqlCommand("""
            insert into setweek.webhook (tenant_id, id, url, types, secret, after_place, created)
            values (?, ?, ?, string_to_array(nullif(?, ''), ' '), ?, ?, ?)
            """, request.Caller.Tenant, body.Id, body.Url, string.Join(' ', body.Types ?? []), secret, last,
            request.SystemTime.ToDateTimeOffset());
        return await Shown(secret) with { ForRepeats = await Shown(null) };

        async Task<Answer> Shown(string? shown)
        {
            var added = Answer.Created($"/webhooks/{body.Id}", new Added(body.Id, body.Url, body.Types, shown));
            if (!request.WantsPage) return added;
            var page = await request.Page<WebhookSecretPage, WebhookSecretPage.Made>(
                new(request.Caller.Tenant, request.Caller.Role, body.Id, shown, PreviousUntil: null));
            return page with { Status = added.Status, Location = added.Location };
        }
    }

    private static Body Read(JsonFields json, OutboundRules outbound)
    {
        var body = new Body(json.Id("id"), json.Text("url", LongestUrl),
            json.Has("types") ? json.List("types", type => type.Text(100), MostTypes, least: 1) : null);
        if (body.Url != "" && outbound.FaultOf(body.Url) is { } fault) json.AddFault("url", fault);
        foreach (var (index, type) in (body.Types ?? []).Index())
            if (type != "" && !TypeForm().IsMatch(type))
                json.AddFault($"types/{index}", "This is not a type of event; give one such as setweek.work-blocked.v1.");
        return body;
    }

    [GeneratedRegex(@"^setweek\.[a-z-]+\.v[0-9]+\z")]
    private static partial Regex TypeForm();
}
