using System.Security.Cryptography;
using System.Text.Json;
using Marten;
using NodaTime;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>
/// The answers given to idempotency keys, for each tenant, person and route. A record is written in the transaction of its
/// command. A second request with the same key waits for the row of the first. If the first is rolled back or refused, its row
/// disappears and the second is run.
/// </summary>
public static class IdempotencyRecords
{
    public static readonly Duration Retention = Duration.FromDays(14);

    /// <summary>How long a request waits for the end of the first one with its key.</summary>
    public static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(20);

    /// <summary>
    /// Claims a key for a request: null if the key is new, otherwise the stored answer or a refusal. After a refusal the
    /// transaction must end.
    /// </summary>
    public static async Task<Answer?> Claim(IDocumentSession session, Request request, IdempotencyKey key)
    {
        try
        {
            return (await Claim(session, [(request, key)], LongestWait, request.Cancelled)).GetValueOrDefault(request);
        }
        catch (Exception error) when (DatabaseErrors.IsLockTimeout(error))
        {
            return Refused.With(409,
                "The first request with this Idempotency-Key is still being processed. Try again later.", "still-under-way");
        }
    }

    /// <summary>Claims the keys of several requests of one tenant. Each key occurs once.</summary>
    /// <param name="wait">How long to wait for requests that have claimed one of the keys and have not ended.</param>
    /// <returns>The stored answer, or a refusal, for each request whose key is not new.</returns>
    /// <exception cref="PostgresException">A key is still claimed after that time (<see cref="DatabaseErrors"/>).</exception>
    public static async Task<IReadOnlyDictionary<Request, Answer>> Claim(
        IDocumentSession session, IReadOnlyList<(Request Request, IdempotencyKey Key)> requests, TimeSpan wait,
        CancellationToken cancelled)
    {
        if (requests.Count == 0) return new Dictionary<Request, Answer>();
        // The rows are locked in the order of their keys, so that two groups of requests cannot wait for each other.
        await using var claim = Command($"""
            set local lock_timeout = {(int)wait.TotalMilliseconds};
            insert into setweek.remembered as there (tenant_id, person, route, key, at, body_hash)
            select @tenant, person, route, key, at, hash
            from unnest(@persons, @routes, @keys, @ats, @hashes) as claimed (person, route, key, at, hash)
            order by person, route, key
            on conflict (tenant_id, person, route, key) do update
              set at = excluded.at, body_hash = excluded.body_hash, status = null, headers = null, content = null
              where there.at < excluded.at - @retention
            returning person, route, key
            """, requests);
        claim.Parameters.AddWithValue("ats", requests.Select(one => one.Request.SystemTime.ToDateTimeOffset()).ToArray());
        claim.Parameters.AddWithValue("hashes", requests.Select(one => Hash(one.Request)).ToArray());
        claim.Parameters.AddWithValue("retention", Retention.ToTimeSpan());
        var claimed = new HashSet<(string, string, string)>();
        await using (var rows = await session.ExecuteReaderAsync(claim, cancelled))
            while (await rows.ReadAsync(cancelled)) claimed.Add((rows.GetString(0), rows.GetString(1), rows.GetString(2)));
        var repeated = requests.Where(one => !claimed.Contains((one.Request.Caller.Person, one.Key.Route, one.Key.Key))).ToList();
        return repeated.Count == 0 ? new Dictionary<Request, Answer>() : await Stored(session, repeated, cancelled);
    }

    private static async Task<IReadOnlyDictionary<Request, Answer>> Stored(
        IDocumentSession session, IReadOnlyList<(Request Request, IdempotencyKey Key)> requests, CancellationToken cancelled)
    {
        await using var find = Command("""
            select person, route, key, body_hash, status, headers, content from setweek.remembered
            join unnest(@persons, @routes, @keys) as asked (person, route, key) using (person, route, key)
            where tenant_id = @tenant
            """, requests);
        await using var rows = await session.ExecuteReaderAsync(find, cancelled);
        var answers = new Dictionary<Request, Answer>();
        while (await rows.ReadAsync(cancelled))
        {
            var row = (rows.GetString(0), rows.GetString(1), rows.GetString(2));
            var request = requests.First(one => (one.Request.Caller.Person, one.Key.Route, one.Key.Key) == row).Request;
            answers[request] = !rows.GetFieldValue<byte[]>(3).AsSpan().SequenceEqual(Hash(request))
                ? Refused.KeyReused
                : StoredAnswer(rows.GetInt32(4), rows.GetString(5), rows.GetFieldValue<byte[]>(6));
        }
        return answers;
    }

    private static Answer StoredAnswer(int status, string headers, byte[] content)
    {
        var stored = JsonSerializer.Deserialize<StoredHeaders>(headers, JsonFormat.Options)!;
        return new Answer(status)
        {
            Content = content, ContentType = stored.ContentType, Location = stored.Location, ETag = stored.ETag,
        };
    }

    /// <summary>Stores the answer under the claimed key. A refused request leaves its key free.</summary>
    public static void Settle(IDocumentSession session, Request request, IdempotencyKey key, Answer answer)
    {
        answer = answer.ForRepeats ?? answer;
        if (answer.IsRefusal || answer.LeavesKeyFree)
            session.QueueSqlCommand("delete from setweek.remembered where tenant_id = ? and person = ? and route = ? and key = ?",
                request.Caller.Tenant, request.Caller.Person, key.Route, key.Key);
        else
            session.QueueSqlCommand("""
                update setweek.remembered set status = ?, headers = ?::jsonb, content = ?
                where tenant_id = ? and person = ? and route = ? and key = ?
                """, answer.Status,
                JsonSerializer.Serialize(new StoredHeaders(answer.ContentType, answer.Location, answer.ETag), JsonFormat.Options),
                answer.Content.ToArray(), request.Caller.Tenant, request.Caller.Person, key.Route, key.Key);
    }

    private static byte[] Hash(Request request) => SHA256.HashData(request.Sent.Span);

    private static NpgsqlCommand Command(string sql, IReadOnlyList<(Request Request, IdempotencyKey Key)> requests)
    {
        var command = new NpgsqlCommand(sql);
        command.Parameters.AddWithValue("tenant", NpgsqlDbType.Text, requests[0].Request.Caller.Tenant);
        Add("persons", one => one.Request.Caller.Person);
        Add("routes", one => one.Key.Route);
        Add("keys", one => one.Key.Key);
        return command;

        void Add(string name, Func<(Request Request, IdempotencyKey Key), string> value) =>
            command.Parameters.AddWithValue(name, NpgsqlDbType.Array | NpgsqlDbType.Text, requests.Select(value).ToArray());
    }

    private sealed record StoredHeaders(string? ContentType, string? Location, string? ETag);
}
