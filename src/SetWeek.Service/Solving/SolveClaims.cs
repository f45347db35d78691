using System.Text.Json;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Service.Json;

namespace SetWeek.Service.Solving;

/// <summary>A request that a node has claimed.</summary>
/// <param name="Attempt">From 1. It tells this claim from one that another node makes later.</param>
public sealed record ClaimedSolve(string Tenant, string Week, string Plan, int Attempt, SolvePriority Priority);

/// <summary>What others tell a running search through the claim table.</summary>
public enum SearchSignal
{
    Continue,

    /// <summary>Give way to a lead's request; the search is put back.</summary>
    Yield,

    /// <summary>End with the best plan so far.</summary>
    Stop,
}

/// <summary>
/// What a node does with the claim table. A claim holds for five seconds and is renewed every second, so that the requests of a
/// node that died are claimed by another one, or by its successor, within six.
/// </summary>
/// <param name="node">The id of this process; a restarted one has another.</param>
public sealed class SolveClaims(NpgsqlDataSource database, string node)
{
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(5);

    /// <summary>How long a lead's request waits for a free node before a batch is asked to yield.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(300);

    /// <summary>So often a batch's search gives way to leads. Then it is finished.</summary>
    private const int MostYields = 3;

    public string Node => node;

    /// <summary>
    /// Queues the unfinished candidates that have no row: those of a database from before the claim table. Called at start.
    /// </summary>
    public async Task AdoptUnfinished(CancellationToken stop)
    {
        await using var insert = database.CreateCommand("""
            insert into setweek.solve_requests (tenant_id, plan, week, priority, asked, attempt, yielding, yields)
            select tenant_id, id, data ->> 'week', case when data ->> 'batch' is null then 0 else 1 end, clock_timestamp(),
                coalesce((data ->> 'attempts')::int, 0), false, 0
            from setweek.mt_doc_candidateplan where lower(data ->> 'state') in ('queued', 'solving')
            on conflict do nothing
            """);
        await insert.ExecuteNonQueryAsync(stop);
    }

    /// <summary>Whether any request waits. It takes no lock, so an idle node can ask often.</summary>
    public async Task<bool> IsAnyWaiting(CancellationToken stop)
    {
        await using var read = database.CreateCommand(
            "select exists (select from setweek.solve_requests where lease is null or lease <= clock_timestamp())");
        return (bool)(await read.ExecuteScalarAsync(stop))!;
    }

    /// <summary>
    /// Claims the next request: a lead's before a batch's; of the chain with the fewest searches under way; of the one that was
    /// served longest ago; the oldest. A batch's request waits for a lead's of the same week. Nodes claim one after another, so
    /// that each counts what the others have claimed.
    /// </summary>
    /// <param name="running">
    /// What this node is searching for. It is left out: after a stall the claim of a running search may have expired, and a
    /// second search for the same plan would take an attempt away from it.
    /// </param>
    public async Task<ClaimedSolve?> Claim(IReadOnlyList<ClaimedSolve> running, CancellationToken stop)
    {
        await using var connection = await database.OpenConnectionAsync(stop);
        await using var transaction = await connection.BeginTransactionAsync(stop);
        await LockClaims(connection, stop);
        await using var claim = new NpgsqlCommand("""
            with under_way as (
                select tenant_id, count(*) as searches from setweek.solve_requests
                where lease > clock_timestamp() group by tenant_id),
            next as (
                select r.tenant_id, r.plan from setweek.solve_requests r
                left join under_way u on u.tenant_id = r.tenant_id
                left join setweek.solve_turns t on t.tenant_id = r.tenant_id
                where (r.lease is null or r.lease <= clock_timestamp())
                  and not exists (select from unnest(@tenants, @plans) as mine (tenant_id, plan)
                      where mine.tenant_id = r.tenant_id and mine.plan = r.plan)
                  and not exists (select from setweek.solve_requests o
                      where o.tenant_id = r.tenant_id and o.week = r.week and o.plan <> r.plan
                        and (o.lease > clock_timestamp() or o.priority < r.priority))
                order by r.priority, coalesce(u.searches, 0), t.served nulls first, r.asked, r.plan
                limit 1 for update of r skip locked),
            turn as (
                insert into setweek.solve_turns (tenant_id, served) select tenant_id, clock_timestamp() from next
                on conflict (tenant_id) do update set served = excluded.served)
            update setweek.solve_requests r
            set node = @node, attempt = r.attempt + 1, begun = clock_timestamp(), lease = clock_timestamp() + @lease,
                yielding = false, ending = null, best = null
            from next where r.tenant_id = next.tenant_id and r.plan = next.plan
            returning r.tenant_id, r.week, r.plan, r.attempt, r.priority
            """, connection);
        claim.Parameters.AddWithValue("node", node);
        claim.Parameters.AddWithValue("lease", Lease);
        claim.Parameters.AddWithValue("tenants", running.Select(one => one.Tenant).ToArray());
        claim.Parameters.AddWithValue("plans", running.Select(one => one.Plan).ToArray());
        ClaimedSolve? claimed = null;
        await using (var row = await claim.ExecuteReaderAsync(stop))
            if (await row.ReadAsync(stop))
                claimed = new ClaimedSolve(row.GetString(0), row.GetString(1), row.GetString(2), row.GetInt32(3),
                    (SolvePriority)row.GetInt32(4));
        await transaction.CommitAsync(stop);
        return claimed;
    }

    private const string Columns = "r.tenant_id, r.plan, r.attempt, r.yielding, r.ending is true";

    /// <summary>The claims that this node still holds, each with the signal to its search.</summary>
    /// <param name="renew">Whether to renew them too.</param>
    public async Task<IReadOnlyDictionary<ClaimedSolve, SearchSignal>> Held(
        IReadOnlyList<ClaimedSolve> claims, bool renew, CancellationToken stop)
    {
        await using var command = database.CreateCommand($"""
            {(renew ? "update setweek.solve_requests r set lease = clock_timestamp() + @lease"
                : $"select {Columns}")}
            from {(renew ? "" : "setweek.solve_requests r,")}
                unnest(@tenants, @plans, @attempts) as mine (tenant_id, plan, attempt)
            where r.tenant_id = mine.tenant_id and r.plan = mine.plan and r.attempt = mine.attempt and r.node = @node
            {(renew ? $"returning {Columns}" : "")}
            """);
        command.Parameters.AddWithValue("lease", Lease);
        command.Parameters.AddWithValue("tenants", claims.Select(claim => claim.Tenant).ToArray());
        command.Parameters.AddWithValue("plans", claims.Select(claim => claim.Plan).ToArray());
        command.Parameters.AddWithValue("attempts", claims.Select(claim => claim.Attempt).ToArray());
        command.Parameters.AddWithValue("node", node);
        var held = new Dictionary<ClaimedSolve, SearchSignal>();
        await using var rows = await command.ExecuteReaderAsync(stop);
        while (await rows.ReadAsync(stop))
        {
            var row = (rows.GetString(0), rows.GetString(1), rows.GetInt32(2));
            held[claims.First(claim => (claim.Tenant, claim.Plan, claim.Attempt) == row)] =
                rows.GetBoolean(3) ? SearchSignal.Yield : rows.GetBoolean(4) ? SearchSignal.Stop : SearchSignal.Continue;
        }
        return held;
    }

    /// <summary>
    /// Asks the batch search that this node began last to yield, if a lead's request waits although every node had time to claim
    /// it. Among all nodes, no more searches yield than leads wait.
    /// </summary>
    public async Task LetOneYield(CancellationToken stop)
    {
        await using var connection = await database.OpenConnectionAsync(stop);
        await using var transaction = await connection.BeginTransactionAsync(stop);
        await LockClaims(connection, stop);
        await using var update = new NpgsqlCommand("""
            update setweek.solve_requests set yielding = true
            where (tenant_id, plan) = (
                select tenant_id, plan from setweek.solve_requests
                where node = @node and lease > clock_timestamp() and priority > 0 and not yielding and yields < @most
                order by begun desc limit 1)
              and (select count(*) from setweek.solve_requests where yielding and lease > clock_timestamp())
                < (select count(*) from setweek.solve_requests where priority = 0
                    and (lease is null or lease <= clock_timestamp()) and asked <= clock_timestamp() - @patience)
            """, connection);
        update.Parameters.AddWithValue("node", node);
        update.Parameters.AddWithValue("most", MostYields);
        update.Parameters.AddWithValue("patience", Patience);
        await update.ExecuteNonQueryAsync(stop);
        await transaction.CommitAsync(stop);
    }

    /// <summary>Puts a claimed request back. Its attempt does not count, because its search was stopped on purpose.</summary>
    /// <param name="yielded">Whether it was stopped for a lead's request.</param>
    public Task Return(ClaimedSolve claim, bool yielded) => Change(claim, """
        update setweek.solve_requests
        set node = null, lease = null, attempt = attempt - 1, yielding = false, yields = yields + @yields, best = null
        """, command => command.Parameters.AddWithValue("yields", yielded ? 1 : 0));

    /// <summary>Removes the row of a request that has no unfinished candidate.</summary>
    public Task Drop(ClaimedSolve claim) => Change(claim, "delete from setweek.solve_requests", _ => { });

    public Task WriteBest(ClaimedSolve claim, BestSoFar best) =>
        Change(claim, "update setweek.solve_requests set best = @best", command =>
            command.Parameters.AddWithValue("best", NpgsqlDbType.Jsonb, JsonSerializer.Serialize(best, JsonFormat.Options)));

    /// <summary>Changes the row of a claim, unless another node has taken it over.</summary>
    private async Task Change(ClaimedSolve claim, string change, Action<NpgsqlCommand> bind)
    {
        await using var command = database.CreateCommand(
            change + " where tenant_id = @tenant and plan = @plan and node = @node and attempt = @attempt");
        bind(command);
        command.Parameters.AddWithValue("tenant", claim.Tenant);
        command.Parameters.AddWithValue("plan", claim.Plan);
        command.Parameters.AddWithValue("node", node);
        command.Parameters.AddWithValue("attempt", claim.Attempt);
        await command.ExecuteNonQueryAsync();
    }

    /// <summary>
    /// Lets nobody claim until the end of the transaction. A claim lasts about a millisecond and happens once for each search.
    /// </summary>
    public static async Task LockClaims(NpgsqlConnection connection, CancellationToken stop)
    {
        await using var take = new NpgsqlCommand(
            "select pg_advisory_xact_lock(hashtextextended('setweek.solve.claim', 0))", connection);
        await take.ExecuteNonQueryAsync(stop);
    }
}
