using System.Globalization;
using Marten;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Feed;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Engineers;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Webhooks;

public sealed class ReadDeadLetters : IQuery
{
    private const int Most = 200;

    public sealed record View(IReadOnlyList<DeadLetterView> DeadLetters);

    /// <param name="Event">The id of the event, which is its webhook-id.</param>
    /// <param name="Behind">Later events of the subject, which wait until this one is replayed or dropped.</param>
    public sealed record DeadLetterView(
        string Subject, string? Event, string? Type, int Attempts, DateTimeOffset? FirstTried, string? Fault, long Behind);

    private sealed record Row(FeedEntry Entry, int Attempts, DateTimeOffset? FirstTried, string? Fault, long Behind);

    public static Operation Operation =>
        new("GET", "/webhooks/{id}/dead-letters", "readDeadLetters", "Reads the deliveries that are tried no more")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Engineer),
            Replies =
            [
                new(200, $"The oldest of each subject, at most {Most}, as JSON or as a page (Accept: text/html)", typeof(View)),
                Reply.Page("The same as a page, on which head office has them tried again or gives them up"),
            ],
        };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (await Webhook.Find(session, request.Id, request.Cancelled) is null) return Refused.Missing("webhook", request.Id);
        var rows = await Read(session, request.Id, request.Cancelled);
        var shown = (await FeedPage.Show(session, [.. rows.Select(row => row.Entry)], request.Cancelled))
            .ToDictionary(item => item.Place, item => item.Event);
        IReadOnlyList<DeadLetterView> letters =
        [
            .. rows.Select(row => (row, shown: shown.GetValueOrDefault(row.Entry.Place)))
                .Select(found => new DeadLetterView(
                    found.row.Entry.Stream, found.shown?.Id, found.shown?.Type, found.row.Attempts,
                    found.row.FirstTried, found.row.Fault, found.row.Behind)),
        ];
        return request.WantsPage
            ? await request.Page<DeadLettersPage, DeadLettersPage.Content>(new(request.Caller.Tenant,
                request.Caller.Role, request.Id, [.. letters.Select(letter => new DeadLettersPage.Letter(letter.Subject,
                    letter.Type ?? "private to the store", letter.Attempts,
                    letter.FirstTried?.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) ?? "not yet",
                    letter.Fault ?? "none", letter.Behind))],
                request.Caller.HasRole(ReplayDeadLetters.Operation.MayUse) ? request.FormToken() : null))
            : Answer.Ok(new View(letters));
    }

    private static async Task<IReadOnlyList<Row>> Read(IQuerySession session, string webhook, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select o.place, o.seq_id, l.subject, l.attempts, l.first_tried, l.fault, o.behind
            from setweek.webhook_lane l join lateral (
              select d.place, d.seq_id, (select count(*) from setweek.webhook_delivery b
                where (b.tenant_id, b.webhook, b.subject) = (d.tenant_id, d.webhook, d.subject) and b.place > d.place) as behind
              from setweek.webhook_delivery d
              where (d.tenant_id, d.webhook, d.subject) = (l.tenant_id, l.webhook, l.subject) order by d.place limit 1) o on true
            where l.tenant_id = @tenant and l.webhook = @webhook and l.dead order by l.first_tried, l.subject limit @most
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("webhook", webhook);
        read.Parameters.AddWithValue("most", Most);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<Row>();
        while (await rows.ReadAsync(cancelled))
            found.Add(new Row(new FeedEntry(rows.GetInt64(0), rows.GetInt64(1), "", rows.GetString(2)), rows.GetInt32(3),
                rows.IsDBNull(4) ? null : rows.GetFieldValue<DateTimeOffset>(4), rows.IsDBNull(5) ? null : rows.GetString(5),
                rows.GetInt64(6)));
        return found;
    }
}
