using System.Security.Cryptography;
using System.Text.Json;
using Marten;
using NodaTime;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>
/// The answers given to idempotency keys, for each tenant, person and route. A record is written in the transaction of its
/// command. A second request with the same key waits for the row of the first. If the first is rolled back or refused, its row
/// disappears and the second is run.
/// </summary>
public static class IdempotencyRecords
{
    public static readonly Duration Retention = Duration.FromDays(14);

    /// <summary>
    /// Claims a key for a request: null if the key is new, otherwise the stored answer or a refusal.
    /// </summary>
    public static async Task<Answer?> Claim(IDocumentSession session, Request request, IdempotencyKey key)
    {
        await using var claim = Command("""
            set local lock_timeout = '20s';
            insert into setweek.remembered as there (tenant_id, person, route, key, at, body_hash)
            values (@tenant, @person, @route, @key, @now, @hash)
            on conflict (tenant_id, person, route, key) do update
              set at = excluded.at, body_hash = excluded.body_hash, status = null, headers = null, content = null
              where there.at < @oldest
            """, request, key);
        claim.Parameters.AddWithValue("now", request.Now.ToDateTimeOffset());
        claim.Parameters.AddWithValue("oldest", (request.Now - Retention).ToDateTimeOffset());
        claim.Parameters.AddWithValue("hash", Hash(request));
        try
        {
            if (await session.ExecuteAsync(claim, request.Cancelled) == 1) return null;
        }
        catch (Exception error)
            when (error.GetBaseException() is PostgresException { SqlState: PostgresErrorCodes.LockNotAvailable })
        {
            return Refused.With(
                409, "The first request with this Idempotency-Key is still being processed. Try again later.", "still-under-way");
        }

        await using var find = Command("""
            select body_hash, status, headers, content from setweek.remembered
            where tenant_id = @tenant and person = @person and route = @route and key = @key
            """, request, key);
        await using var found = await session.ExecuteReaderAsync(find, request.Cancelled);
        await found.ReadAsync(request.Cancelled);
        if (!found.GetFieldValue<byte[]>(0).AsSpan().SequenceEqual(Hash(request)))
            return Refused.With(
                422, "This Idempotency-Key was already used with another body. Give each request its own key.", "key-reused");
        var headers = JsonSerializer.Deserialize<StoredHeaders>(found.GetString(2), JsonFormat.Options)!;
        return new Answer(found.GetInt32(1))
        {
            Content = found.GetFieldValue<byte[]>(3),
            ContentType = headers.ContentType,
            Location = headers.Location,
            ETag = headers.ETag,
        };
    }

    public static void Complete(IDocumentSession session, Request request, IdempotencyKey key, Answer answer) =>
        session.QueueSqlCommand("""
            update setweek.remembered set status = ?, headers = ?::jsonb, content = ?
            where tenant_id = ? and person = ? and route = ? and key = ?
            """, answer.Status,
            JsonSerializer.Serialize(new StoredHeaders(answer.ContentType, answer.Location, answer.ETag), JsonFormat.Options),
            answer.Content.ToArray(), request.Caller.Tenant, request.Caller.Person, key.Route, key.Key);

    private static byte[] Hash(Request request) => SHA256.HashData(request.Body.Span);

    private static NpgsqlCommand Command(string sql, Request request, IdempotencyKey key)
    {
        var command = new NpgsqlCommand(sql);
        command.Parameters.AddWithValue("tenant", NpgsqlDbType.Text, request.Caller.Tenant);
        command.Parameters.AddWithValue("person", NpgsqlDbType.Text, request.Caller.Person);
        command.Parameters.AddWithValue("route", NpgsqlDbType.Text, key.Route);
        command.Parameters.AddWithValue("key", NpgsqlDbType.Text, key.Key);
        return command;
    }

    private sealed record StoredHeaders(string? ContentType, string? Location, string? ETag);
}
