using Marten;
using Npgsql;

namespace SetWeek.Service.Following;

/// <summary>The place of each follower in each chain: the last one that it has followed.</summary>
public static class FollowerPlaces
{
    /// <summary>
    /// Reads the place of a follower in the session's chain and locks its row until the commit. A node that has lost the follower
    /// without knowing it waits here, and then reads the place that the other node has stored.
    /// </summary>
    public static async Task<long> Lock(IDocumentSession session, string follower, CancellationToken cancelled)
    {
        await using var lockRow = new NpgsqlCommand("""
            insert into setweek.follower (name, tenant_id, place) values (@name, @tenant, 0) on conflict do nothing;
            select place from setweek.follower where name = @name and tenant_id = @tenant for update
            """);
        lockRow.Parameters.AddWithValue("name", follower);
        lockRow.Parameters.AddWithValue("tenant", session.TenantId);
        await using var row = await session.ExecuteReaderAsync(lockRow, cancelled);
        await row.ReadAsync(cancelled);
        return row.GetInt64(0);
    }

    /// <summary>How many events of the session's chain a follower has not followed yet.</summary>
    public static async Task<long> Behind(IQuerySession session, string follower, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select count(*) from setweek.feed where tenant_id = @tenant and (place is null or place >
              coalesce((select place from setweek.follower where name = @name and tenant_id = @tenant), 0))
            """);
        read.Parameters.AddWithValue("name", follower);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        await using var row = await session.ExecuteReaderAsync(read, cancelled);
        await row.ReadAsync(cancelled);
        return row.GetInt64(0);
    }

    /// <summary>The place of a follower in the session's chain; 0 before its first event.</summary>
    public static async Task<long> Read(IQuerySession session, string follower, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(
            "select coalesce((select place from setweek.follower where name = @name and tenant_id = @tenant), 0)");
        read.Parameters.AddWithValue("name", follower);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        await using var row = await session.ExecuteReaderAsync(read, cancelled);
        await row.ReadAsync(cancelled);
        return row.GetInt64(0);
    }

    /// <summary>Stores the place at the session's commit. Place 0 follows the chain again from its first event.</summary>
    public static void Store(IDocumentSession session, string follower, long place) => session.QueueSqlCommand(
        "update setweek.follower set place = ? where name = ? and tenant_id = ?", place, follower, session.TenantId);
}
