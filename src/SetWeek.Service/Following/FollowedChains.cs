using Npgsql;
using NpgsqlTypes;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Following;

/// <summary>Finds the chains with something new, whatever their number, by one query each time.</summary>
public static class FollowedChains
{
    /// <summary>The chains in which events are beyond the follower's place.</summary>
    public static async Task<IReadOnlyList<string>> Ahead(
        NpgsqlConnection connection, string follower, CancellationToken cancelled)
    {
        await GivePlaces(connection, cancelled);
        await using var find = new NpgsqlCommand("""
            select h.tenant_id from setweek.feed_head h
            left join setweek.follower f on f.name = @name and f.tenant_id = h.tenant_id
            where h.place > coalesce(f.place, 0)
            """, connection);
        find.Parameters.AddWithValue("name", follower);
        return await Read(find, row => row.GetString(0), cancelled);
    }

    /// <summary>The last place of each of the chains that has one.</summary>
    public static async Task<IReadOnlyDictionary<string, long>> LastPlaces(
        NpgsqlConnection connection, IReadOnlyCollection<string> chains, CancellationToken cancelled)
    {
        await GivePlaces(connection, cancelled);
        await using var find = new NpgsqlCommand(
            "select tenant_id, place from setweek.feed_head where tenant_id = any (@chains)", connection);
        find.Parameters.AddWithValue("chains", NpgsqlDbType.Array | NpgsqlDbType.Text, chains.ToArray());
        return (await Read(find, row => (Chain: row.GetString(0), Place: row.GetInt64(1)), cancelled))
            .ToDictionary(head => head.Chain, head => head.Place);
    }

    /// <summary>
    /// Gives places to the events of all chains that wait for one. Each chain has a transaction of its own, because its lock is
    /// held to the end of the transaction.
    /// </summary>
    private static async Task GivePlaces(NpgsqlConnection connection, CancellationToken cancelled)
    {
        await using var waiting = new NpgsqlCommand(
            "select distinct tenant_id from setweek.feed where place is null", connection);
        if (await Read(waiting, row => row.GetString(0), cancelled) is not { Count: > 0 } chains) return;
        await using var give = new NpgsqlBatch(connection) { EnableErrorBarriers = true };
        foreach (var chain in chains)
            give.BatchCommands.Add(new NpgsqlBatchCommand(FeedOrder.GivePlaces) { Parameters = { new("tenant", chain) } });
        await give.ExecuteNonQueryAsync(cancelled);
    }

    private static async Task<IReadOnlyList<T>> Read<T>(
        NpgsqlCommand command, Func<NpgsqlDataReader, T> value, CancellationToken cancelled)
    {
        var found = new List<T>();
        await using var rows = await command.ExecuteReaderAsync(cancelled);
        while (await rows.ReadAsync(cancelled)) found.Add(value(rows));
        return found;
    }
}
