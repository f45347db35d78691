using Marten;
using Npgsql;
using NpgsqlTypes;

namespace SetWeek.Service.Storage;

/// <summary>An event in the feed of its chain.</summary>
/// <param name="Sequence">The number of the stored event.</param>
/// <param name="Type">The name under which the event is stored (<see cref="StoredEvents"/>).</param>
public sealed record FeedEntry(long Place, long Sequence, string Type, string Stream);

/// <summary>Entries of the feed in the order of their places.</summary>
/// <param name="End">The place up to which everything has been read; entries that were left out may follow the last one.</param>
public sealed record FeedEntries(IReadOnlyList<FeedEntry> Entries, long End);

/// <summary>
/// The order of the events in the feed of a chain. An event gets its place when it is first seen committed, not when it is
/// inserted. So no event ever appears before one that a reader has already passed, even if a transaction with a lower sequence
/// number commits late (docs/decisions/feed.md).
/// </summary>
public static class FeedOrder
{
    /// <summary>Gives places to the events of the chain @tenant that have none yet.</summary>
    public const string GivePlaces = "select setweek.feed_give_places(@tenant)";

    /// <summary>
    /// One statement, so that the entries and the last place come from one snapshot. The join leaves out the hidden types in the
    /// database: a reader passes any number of them in one round.
    /// </summary>
    private const string ReadPlaces = """
        select known.place, found.place, found.seq_id, found.type, found.stream_id
        from (select coalesce((select place from setweek.feed_head where tenant_id = @tenant), 0) as place) known
        left join lateral (
            select f.place, f.seq_id, e.type, e.stream_id
            from setweek.feed f join setweek.mt_events e on e.seq_id = f.seq_id
            where f.tenant_id = @tenant and f.place > @after and e.type <> all (@hidden)
            order by f.place limit @limit) found on true
        order by found.place
        """;

    /// <summary>Gives places to all events seen committed, and reads those after the given place.</summary>
    /// <param name="hidden">The stored names of the events to leave out.</param>
    public static Task<FeedEntries> ReadAfter(
        IQuerySession session, long place, int limit, IReadOnlyCollection<string> hidden, CancellationToken cancelled) =>
        Read(session, $"{GivePlaces}; {ReadPlaces}", place, limit, hidden, cancelled);

    /// <summary>
    /// Reads only places that are given already. It takes no lock, so it may be part of a longer transaction.
    /// </summary>
    public static Task<FeedEntries> ReadGiven(
        IQuerySession session, long place, int limit, IReadOnlyCollection<string> hidden, CancellationToken cancelled) =>
        Read(session, ReadPlaces, place, limit, hidden, cancelled);

    /// <summary>Gives places to all events seen committed, and reads the last ones before the given place.</summary>
    /// <param name="before">Null: from the end.</param>
    /// <param name="hidden">The stored names of the events to leave out.</param>
    /// <returns>The newest first.</returns>
    public static async Task<IReadOnlyList<FeedEntry>> ReadBefore(IQuerySession session, long? before, int limit,
        IReadOnlyCollection<string> hidden, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand($"""
            {GivePlaces};
            select f.place, f.seq_id, e.type, e.stream_id
            from setweek.feed f join setweek.mt_events e on e.seq_id = f.seq_id
            where f.tenant_id = @tenant and f.place < @before and e.type <> all (@hidden)
            order by f.place desc limit @limit
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("before", before ?? long.MaxValue);
        read.Parameters.AddWithValue("limit", limit);
        read.Parameters.AddWithValue("hidden", NpgsqlDbType.Array | NpgsqlDbType.Text, hidden.ToArray());
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        await rows.NextResultAsync(cancelled);
        var found = new List<FeedEntry>();
        while (await rows.ReadAsync(cancelled))
            found.Add(new FeedEntry(rows.GetInt64(0), rows.GetInt64(1), rows.GetString(2), rows.GetString(3)));
        return found;
    }

    /// <summary>
    /// Gives places to all events seen committed. The last place of the session's chain; 0 if it has no events.
    /// </summary>
    public static async Task<long> Last(IQuerySession session, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(
            $"{GivePlaces}; select place from setweek.feed_head where tenant_id = @tenant");
        read.Parameters.AddWithValue("tenant", session.TenantId);
        await using var row = await session.ExecuteReaderAsync(read, cancelled);
        await row.NextResultAsync(cancelled);
        return await row.ReadAsync(cancelled) ? row.GetInt64(0) : 0;
    }

    private static async Task<FeedEntries> Read(IQuerySession session, string sql, long place, int limit,
        IReadOnlyCollection<string> hidden, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(sql);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("after", place);
        read.Parameters.AddWithValue("limit", limit);
        read.Parameters.AddWithValue("hidden", NpgsqlDbType.Array | NpgsqlDbType.Text, hidden.ToArray());
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        if (rows.FieldCount == 1) await rows.NextResultAsync(cancelled);
        var (found, last) = (new List<FeedEntry>(), 0L);
        while (await rows.ReadAsync(cancelled))
        {
            last = rows.GetInt64(0);
            if (!rows.IsDBNull(1))
                found.Add(new FeedEntry(rows.GetInt64(1), rows.GetInt64(2), rows.GetString(3), rows.GetString(4)));
        }
        return new FeedEntries(found, found.Count == limit ? found[^1].Place : Math.Max(last, place));
    }
}
