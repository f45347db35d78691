using System.Text.Json;
using System.Text.Json.Serialization;
using Marten;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Service.Json;

namespace SetWeek.Service.Solving;

/// <summary>Lower values are served first: a lead waits for the answer, a batch of head office does not.</summary>
public enum SolvePriority { Lead, Batch }

/// <summary>
/// The unfinished requests for plans, as they are asked for, withdrawn and settled: each in the transaction that changes the
/// candidate. A request has a row from its answer until its outcome, so that none is lost and none is left over.
/// </summary>
public static class SolveRequests
{
    /// <summary>Queues the request of a candidate. The time is that of the database, which all nodes share.</summary>
    public static void Ask(this IDocumentSession session, string week, string plan, SolvePriority priority) =>
        session.QueueSqlCommand("""
            insert into setweek.solve_requests (tenant_id, plan, week, priority, asked, attempt, yielding, yields)
            values (?, ?, ?, ?, clock_timestamp(), 0, false, 0)
            """, session.TenantId, plan, week, (int)priority);

    /// <summary>
    /// Withdraws an unfinished request: its candidate is cancelled. A node that searches for it sees that its row is gone. The
    /// row is deleted before the candidate is written, as in <see cref="End"/>, so that no two transactions wait for each other.
    /// </summary>
    public static void Withdraw(this IDocumentSession session, CandidatePlan candidate)
    {
        session.QueueSqlCommand(
            "delete from setweek.solve_requests where tenant_id = ? and plan = ?", session.TenantId, candidate.Id);
        session.Store(candidate with { State = CandidateState.Cancelled });
    }

    /// <summary>Ends a request in the open transaction of the session.</summary>
    /// <returns>False if it was withdrawn, or if another node has taken it over. Its outcome must not be stored then.</returns>
    public static async Task<bool> End(this IDocumentSession session, ClaimedSolve claim, string node)
    {
        await using var delete = new NpgsqlCommand("""
            delete from setweek.solve_requests where tenant_id = @tenant and plan = @plan and node = @node and attempt = @attempt
            """);
        delete.Parameters.AddWithValue("tenant", NpgsqlDbType.Text, claim.Tenant);
        delete.Parameters.AddWithValue("plan", NpgsqlDbType.Text, claim.Plan);
        delete.Parameters.AddWithValue("node", NpgsqlDbType.Text, node);
        delete.Parameters.AddWithValue("attempt", claim.Attempt);
        return await session.ExecuteAsync(delete) == 1;
    }

    /// <summary>Asks the node that searches, whichever it is, to end with the best plan so far.</summary>
    /// <returns>False if it has found none yet, or if no node searches at the moment.</returns>
    public static async Task<bool> EndWithBest(this IDocumentSession session, string plan, CancellationToken cancelled)
    {
        const string HasBest = "best is not null and lease > clock_timestamp()";
        await using var read = new NpgsqlCommand(
            $"select exists (select from setweek.solve_requests where tenant_id = @tenant and plan = @plan and {HasBest})");
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("plan", plan);
        await using (var row = await session.ExecuteReaderAsync(read, cancelled))
            if (!await row.ReadAsync(cancelled) || !row.GetBoolean(0)) return false;
        session.QueueSqlCommand($"update setweek.solve_requests set ending = true where tenant_id = ? and plan = ? and {HasBest}",
            session.TenantId, plan);
        return true;
    }

    /// <summary>The best plan found so far for an unfinished request, by whichever node; null if there is none yet.</summary>
    public static async Task<BestSoFar?> BestSoFarOf(this IQuerySession session, string plan, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(
            "select best::text, ending is true from setweek.solve_requests "
                + "where tenant_id = @tenant and plan = @plan and best is not null");
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("plan", plan);
        await using var row = await session.ExecuteReaderAsync(read, cancelled);
        return await row.ReadAsync(cancelled)
            ? BestSoFar.Read(row.GetString(0), row.GetBoolean(1)) : null;
    }
}

/// <summary>What a running search has found: the goals of its best plan and, for a re-plan, the options.</summary>
/// <param name="AfterMilliseconds">Time from the start of the search.</param>
public sealed record BestSoFar(
    long AfterMilliseconds, IReadOnlyList<GoalValue> Goals, IReadOnlyList<OfferedOption> Options)
{
    /// <summary>Whether a lead has asked to end the search with it. It is read from its own column.</summary>
    [JsonIgnore]
    public bool IsEnding { get; init; }

    public static BestSoFar Read(string json, bool isEnding) =>
        JsonSerializer.Deserialize<BestSoFar>(json, JsonFormat.Options)! with { IsEnding = isEnding };
}
