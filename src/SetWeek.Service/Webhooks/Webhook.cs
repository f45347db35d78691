using Marten;
using Npgsql;

namespace SetWeek.Service.Webhooks;

/// <summary>An address that receives the events of a chain.</summary>
/// <param name="Types">The types of events that it receives; null for all.</param>
/// <param name="AfterPlace">It receives the events after this place of the feed.</param>
public sealed record Webhook(string Id, string Url, IReadOnlyList<string>? Types, long AfterPlace, DateTimeOffset Created)
{
    public required string Secret { get; init; }

    /// <summary>The secret before, which signs too until the given time.</summary>
    public string? PreviousSecret { get; init; }
    public DateTimeOffset? PreviousUntil { get; init; }

    /// <summary>The secrets that sign at the given time, the newest first.</summary>
    public IEnumerable<string> SecretsAt(DateTimeOffset now) =>
        PreviousSecret is { } previous && PreviousUntil > now ? [Secret, previous] : [Secret];

    /// <summary>The webhooks of the session's chain in the order of their ids.</summary>
    /// <param name="id">Only this one; null for all.</param>
    public static async Task<IReadOnlyList<Webhook>> Read(IQuerySession session, string? id, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select id, url, types, after_place, created, secret, previous_secret, previous_until from setweek.webhook
            where tenant_id = @tenant and (@id is null or id = @id) order by id
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("id", NpgsqlTypes.NpgsqlDbType.Text, (object?)id ?? DBNull.Value);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<Webhook>();
        while (await rows.ReadAsync(cancelled))
            found.Add(new Webhook(rows.GetString(0), rows.GetString(1),
                rows.IsDBNull(2) ? null : rows.GetFieldValue<string[]>(2), rows.GetInt64(3),
                rows.GetFieldValue<DateTimeOffset>(4))
            {
                Secret = rows.GetString(5),
                PreviousSecret = rows.IsDBNull(6) ? null : rows.GetString(6),
                PreviousUntil = rows.IsDBNull(7) ? null : rows.GetFieldValue<DateTimeOffset>(7),
            });
        return found;
    }

    public static async Task<Webhook?> Find(IQuerySession session, string id, CancellationToken cancelled) =>
        (await Read(session, id, cancelled)).SingleOrDefault();
}
