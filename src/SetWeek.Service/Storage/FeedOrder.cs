using Marten;
using Npgsql;

namespace SetWeek.Service.Storage;

/// <summary>
/// The order of the events in the feed of a chain. An event gets its place when it is first seen committed, not when it is
/// inserted. So no event ever appears before one that a reader has already passed, even if a transaction with a lower sequence
/// number commits late (docs/decisions/feed.md).
/// </summary>
public static class FeedOrder
{
    /// <summary>The places after the given one, in order, each with the sequence number of its stored event.</summary>
    public static async Task<IReadOnlyList<(long Place, long Sequence)>> ReadAfter(
        IQuerySession session, long place, int limit, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select setweek.feed_give_places(@tenant);
            select place, seq_id from setweek.feed where tenant_id = @tenant and place > @after order by place limit @limit
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("after", place);
        read.Parameters.AddWithValue("limit", limit);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        await rows.NextResultAsync(cancelled);
        var found = new List<(long, long)>();
        while (await rows.ReadAsync(cancelled)) found.Add((rows.GetInt64(0), rows.GetInt64(1)));
        return found;
    }
}
