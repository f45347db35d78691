using Marten;
using Npgsql;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;

namespace SetWeek.Service.KitDelays;

/// <summary>The weeks of a kit delay that a caller may know of: those in stores that the caller has access to.</summary>
/// <param name="batch">The id of the kit delay.</param>
internal sealed class KitDelayItems(IQuerySession session, string batch, Caller caller, CancellationToken cancelled)
{
    private const string Reachable = """
        from setweek.mt_doc_kitdelayweek
        where tenant_id = @tenant and batch = @batch and (@stores is null or data ->> 'store' = any(@stores))
        """;

    /// <summary>Whether the caller may know of the kit delay. Who reported it may do so before a week is found.</summary>
    /// <param name="weeks">The number of weeks that the caller may know of.</param>
    public static bool MayRead(Caller caller, KitDelay delay, int weeks) =>
        weeks > 0 || delay.By == caller.Person || caller.Stores.Contains(Caller.AnyStore);

    /// <summary>Whether it is cancelled for all stores that the caller has access to.</summary>
    public static bool IsCancelled(Caller caller, KitDelay delay) =>
        delay.Cancelled || caller.Stores.All(delay.IsCancelledFor);

    /// <summary>The sums over all weeks.</summary>
    public async Task<ReadKitDelay.Sums> Sums()
    {
        var (states, missed, notKnown, told) = (new SortedDictionary<KitDelayState, int>(), 0, 0, 0);
        await using (var read = Command($"""
            select data ->> 'state', count(*)::int,
                (count(*) filter (where lower(data -> 'outcome' ->> 'launch') = 'missed'))::int,
                (count(*) filter (where lower(data -> 'outcome' ->> 'launch') = 'notknown'))::int,
                coalesce(sum(jsonb_array_length(data -> 'outcome' -> 'told')), 0)::int
            {Reachable} group by 1
            """))
        {
            await using var rows = await session.ExecuteReaderAsync(read, cancelled);
            while (await rows.ReadAsync(cancelled))
            {
                states[Enum.Parse<KitDelayState>(rows.GetString(0), ignoreCase: true)] = rows.GetInt32(1);
                missed += rows.GetInt32(2);
                notKnown += rows.GetInt32(3);
                told += rows.GetInt32(4);
            }
        }
        return ReadKitDelay.Sums.Of(states, missed, notKnown, told, await Costs());
    }

    private async Task<IReadOnlyList<ReadKitDelay.CostSum>> Costs()
    {
        await using var read = Command($"""
            select data -> 'outcome' ->> 'currency', sum((data -> 'outcome' -> 'cost' ->> 'was')::bigint)::bigint,
                sum((data -> 'outcome' -> 'cost' ->> 'now')::bigint)::bigint
            {Reachable} and data -> 'outcome' -> 'cost' ->> 'was' is not null group by 1 order by 1
            """);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var costs = new List<ReadKitDelay.CostSum>();
        while (await rows.ReadAsync(cancelled))
            costs.Add(new ReadKitDelay.CostSum(rows.GetString(0), rows.GetInt64(1), rows.GetInt64(2)));
        return costs;
    }

    /// <summary>The weeks after the given one, in the order of their ids.</summary>
    public async Task<IReadOnlyList<KitDelayWeek>> After(string week, int limit)
    {
        var ids = new List<string>();
        await using (var read = Command($"""
            select id {Reachable} and id collate "C" > @after order by id collate "C" limit @limit
            """))
        {
            read.Parameters.AddWithValue("after", KitDelayWeek.IdOf(batch, week));
            read.Parameters.AddWithValue("limit", limit);
            await using var rows = await session.ExecuteReaderAsync(read, cancelled);
            while (await rows.ReadAsync(cancelled)) ids.Add(rows.GetString(0));
        }
        var items = await session.LoadManyAsync<KitDelayWeek>(cancelled, ids);
        return [.. items.OrderBy(item => item.Week, StringComparer.Ordinal)];
    }

    private NpgsqlCommand Command(string sql)
    {
        var command = new NpgsqlCommand(sql);
        command.Parameters.AddWithValue("tenant", session.TenantId);
        command.Parameters.AddWithValue("batch", batch);
        command.Parameters.Add(new NpgsqlParameter<string[]?>("stores",
            caller.Stores.Contains(Caller.AnyStore) ? null : [.. caller.Stores]));
        return command;
    }
}
