using Npgsql;
using NpgsqlTypes;

namespace SetWeek.Service.Webhooks;

/// <summary>
/// The deliveries of one subject to one webhook, claimed by a node for a while. The oldest is tried until it is accepted or dead,
/// so a failing subject holds back itself alone. The number of attempts tells claims apart.
/// </summary>
public sealed record WebhookLane(string Chain, string Webhook, string Subject, int Attempts)
{
    /// <summary>How long a claim lasts. If its node dies, another one tries again after this time.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(45);

    /// <summary>Claims lanes whose delivery is due, those that have waited longest first.</summary>
    /// <param name="busy">Webhooks ("chain/id") that this node already tries many lanes of.</param>
    public static async Task<IReadOnlyList<WebhookLane>> Claim(
        NpgsqlDataSource database, DateTimeOffset now, int limit, IReadOnlyCollection<string> busy, CancellationToken cancelled)
    {
        await using var claim = database.CreateCommand("""
            update setweek.webhook_lane l
            set due = @until, attempts = l.attempts + 1, first_tried = coalesce(l.first_tried, @now)
            from (select tenant_id, webhook, subject from setweek.webhook_lane
                  where due <= @now and tenant_id || '/' || webhook <> all (@busy)
                  order by due limit @limit for update skip locked) c
            where (l.tenant_id, l.webhook, l.subject) = (c.tenant_id, c.webhook, c.subject)
            returning l.tenant_id, l.webhook, l.subject, l.attempts
            """);
        claim.Parameters.AddWithValue("now", now);
        claim.Parameters.AddWithValue("until", now + Lease);
        claim.Parameters.AddWithValue("limit", limit);
        claim.Parameters.AddWithValue("busy", NpgsqlDbType.Array | NpgsqlDbType.Text, busy.ToArray());
        await using var rows = await claim.ExecuteReaderAsync(cancelled);
        var claimed = new List<WebhookLane>();
        while (await rows.ReadAsync(cancelled))
            claimed.Add(new WebhookLane(rows.GetString(0), rows.GetString(1), rows.GetString(2), rows.GetInt32(3)));
        return claimed;
    }

    /// <summary>The oldest delivery: its place in the feed, and the number of its event. Null if there is none.</summary>
    public async Task<(long Place, long Sequence)?> Oldest(NpgsqlDataSource database, CancellationToken cancelled)
    {
        await using var read = database.CreateCommand("""
            select place, seq_id from setweek.webhook_delivery
            where tenant_id = @tenant and webhook = @webhook and subject = @subject order by place limit 1
            """);
        AddKey(read);
        await using var row = await read.ExecuteReaderAsync(cancelled);
        return await row.ReadAsync(cancelled) ? (row.GetInt64(0), row.GetInt64(1)) : null;
    }

    /// <summary>Removes a delivery that was accepted. If there is another, this node claims it at once.</summary>
    /// <returns>The lane with the next delivery; null if there is none, or the claim has been lost.</returns>
    public async Task<WebhookLane?> Accepted(NpgsqlDataSource database, long place, DateTimeOffset now)
    {
        await using var connection = await database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        if (!await Lock(connection, transaction)) return null;
        // The lane's row is locked: no delivery is added before the commit, and the statement sees those added so far.
        await using var settle = new NpgsqlCommand("""
            with gone as (
              delete from setweek.webhook_delivery
              where tenant_id = @tenant and webhook = @webhook and subject = @subject and place = @place),
            next as (
              select exists (select from setweek.webhook_delivery
                where tenant_id = @tenant and webhook = @webhook and subject = @subject and place > @place) as found)
            update setweek.webhook_lane l set fault = null, attempts = case when next.found then 1 else 0 end,
              first_tried = case when next.found then @now end, due = case when next.found then @until end
            from next where l.tenant_id = @tenant and l.webhook = @webhook and l.subject = @subject
            returning next.found
            """, connection, transaction);
        AddKey(settle);
        settle.Parameters.AddWithValue("place", place);
        settle.Parameters.AddWithValue("now", now);
        settle.Parameters.AddWithValue("until", now + Lease);
        var hasNext = (bool)(await settle.ExecuteScalarAsync())!;
        await transaction.CommitAsync();
        return hasNext ? this with { Attempts = 1 } : null;
    }

    /// <summary>Records a failed attempt.</summary>
    /// <param name="due">When to try again; null if it is a dead letter now.</param>
    public async Task Failed(NpgsqlDataSource database, string fault, DateTimeOffset? due)
    {
        await using var record = database.CreateCommand("""
            update setweek.webhook_lane set fault = @fault, due = @due, dead = @due is null
            where tenant_id = @tenant and webhook = @webhook and subject = @subject and attempts = @attempts and not dead
            """);
        AddKey(record);
        record.Parameters.AddWithValue("attempts", Attempts);
        record.Parameters.AddWithValue("fault", fault);
        record.Parameters.AddWithValue("due", NpgsqlDbType.TimestampTz, (object?)due ?? DBNull.Value);
        await record.ExecuteNonQueryAsync();
    }

    /// <summary>Gives the claim back without an attempt, for instance when the service stops.</summary>
    public async Task Release(NpgsqlDataSource database, DateTimeOffset now)
    {
        await using var release = database.CreateCommand("""
            update setweek.webhook_lane set due = @now, attempts = attempts - 1
            where tenant_id = @tenant and webhook = @webhook and subject = @subject and attempts = @attempts and not dead
            """);
        AddKey(release);
        release.Parameters.AddWithValue("attempts", Attempts);
        release.Parameters.AddWithValue("now", now);
        await release.ExecuteNonQueryAsync();
    }

    /// <summary>Removes a lane whose webhook is gone.</summary>
    public async Task Remove(NpgsqlDataSource database)
    {
        await using var remove = database.CreateCommand("""
            delete from setweek.webhook_delivery where tenant_id = @tenant and webhook = @webhook and subject = @subject;
            delete from setweek.webhook_lane where tenant_id = @tenant and webhook = @webhook and subject = @subject
            """);
        AddKey(remove);
        await remove.ExecuteNonQueryAsync();
    }

    /// <summary>False if the claim has been lost to another node.</summary>
    private async Task<bool> Lock(NpgsqlConnection connection, NpgsqlTransaction transaction)
    {
        await using var lockRow = new NpgsqlCommand("""
            select attempts from setweek.webhook_lane
            where tenant_id = @tenant and webhook = @webhook and subject = @subject and not dead for update
            """, connection, transaction);
        AddKey(lockRow);
        return await lockRow.ExecuteScalarAsync() is int attempts && attempts == Attempts;
    }

    private void AddKey(NpgsqlCommand command)
    {
        command.Parameters.AddWithValue("tenant", Chain);
        command.Parameters.AddWithValue("webhook", Webhook);
        command.Parameters.AddWithValue("subject", Subject);
    }
}
