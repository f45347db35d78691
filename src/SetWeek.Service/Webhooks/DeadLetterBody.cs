using Marten;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Webhooks;

/// <summary>The body of a request about dead letters: those of one subject, or all.</summary>
public sealed record DeadLetterBody(string? Subject)
{
    public const string Example = """{"subject": "week/first-rain.harbour-street"}""";

    /// <summary>Queues a statement for the dead lanes that the body names.</summary>
    /// <param name="sql">It ends where the condition on the lane begins; the lane is called l.</param>
    public static async Task<Answer> Handle(Request request, IDocumentSession session, params IReadOnlyList<string> sql)
    {
        if (request.Read(json => new DeadLetterBody(json.OptionalText("subject", 300))).TryPickT1(out var faults, out var body))
            return Refused.For(faults);
        if (await Webhook.Find(session, request.Id, request.Cancelled) is null) return Refused.Missing("webhook", request.Id);
        foreach (var statement in sql)
            session.QueueSqlCommand($"{statement} l.tenant_id = ? and l.webhook = ? and l.dead and l.subject like ?",
                request.Caller.Tenant, request.Id, body.Subject is { } subject ? Escaped(subject) : "%");
        return Answer.NoContent;
    }

    private static string Escaped(string text) => text.Replace("\\", "\\\\").Replace("%", "\\%").Replace("_", "\\_");
}
