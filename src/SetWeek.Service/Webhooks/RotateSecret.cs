using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Engineers;
using SetWeek.Service.Words;

namespace SetWeek.Service.Webhooks;

public sealed class RotateSecret : ICommand
{
    /// <summary>How long the old secret signs beside the new one, so that the receiver can change over in between.</summary>
    private static readonly Duration Overlap = Duration.FromHours(24);

    /// <param name="Secret">It is shown here only; absent from the answer to a repeated request.</param>
    public sealed record Rotated(string Id, string? Secret, Instant PreviousSecretUntil);

    public static Operation Operation =>
        new("POST", "/webhooks/{id}/secret", "rotateWebhookSecret", "Gives a webhook a new secret")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
            Replies =
            [
                new(200, "The new secret, which is not shown again; for 24 hours the old one signs too", typeof(Rotated)),
                Reply.Page("The same as a page (Accept: text/html)"),
            ],
        };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await Webhook.Find(session, request.Id, request.Cancelled) is null) return Refused.Missing("webhook", request.Id);
        var (secret, until) = (WebhookSecret.New(), request.SystemTime + Overlap);
        session.QueueSqlCommand("""
            update setweek.webhook set previous_secret = secret, previous_until = ?, secret = ? where tenant_id = ? and id = ?
            """, until.ToDateTimeOffset(), secret, request.Caller.Tenant, request.Id);
        return await Shown(secret) with { ForRepeats = await Shown(null) };

        async Task<Answer> Shown(string? shown) => request.WantsPage
            ? await request.Page<WebhookSecretPage, WebhookSecretPage.Made>(new(request.Caller.Tenant,
                request.Caller.Role, request.Id, shown, LedgerSentences.At(until.InUtc().LocalDateTime)))
            : Answer.Ok(new Rotated(request.Id, shown, until));
    }
}
