using Marten;
using Npgsql;

namespace SetWeek.Service.Storage;

/// <summary>
/// Where each event stands in its chain's feed. An event gets its place when it is first seen committed, not when it is
/// written: a place once given is never filled later, however long a transaction with a lower number stays open
/// (docs/decisions/feed.md).
/// </summary>
public static class FeedOrder
{
    /// <summary>Places after the one given, in order, with the sequence number under which the event is stored.</summary>
    public static async Task<IReadOnlyList<(long Place, long Sequence)>> ReadAfter(
        IQuerySession session, long place, int most, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select setweek.feed_give_places(@tenant);
            select place, seq_id from setweek.feed where tenant_id = @tenant and place > @after order by place limit @most
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("after", place);
        read.Parameters.AddWithValue("most", most);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        await rows.NextResultAsync(cancelled);
        var found = new List<(long, long)>();
        while (await rows.ReadAsync(cancelled)) found.Add((rows.GetInt64(0), rows.GetInt64(1)));
        return found;
    }
}
