using Marten;
using Npgsql;

namespace SetWeek.Service.Storage;

/// <summary>
/// Lists the streams of a chain in the order of their ids, character by character, whatever the collation of the database.
/// </summary>
public static class StreamList
{
    /// <summary>The ids of the stores, directions or weeks after the given one.</summary>
    /// <param name="kind">"store", "direction" or "week", with which the ids of the streams start.</param>
    /// <param name="among">Null: all of them.</param>
    public static async Task<IReadOnlyList<string>> Ids(
        IQuerySession session, string kind, IReadOnlyList<string>? among, string after, int limit, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select substr(id, @skip) from setweek.mt_streams
            where tenant_id = @tenant and id like @kind || '/%' and id collate "C" > @kind || '/' || @after
              and (@among is null or id = any(@among))
            order by id collate "C" limit @limit
            """);
        read.Parameters.AddWithValue("skip", kind.Length + 2);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("kind", kind);
        read.Parameters.AddWithValue("after", after);
        read.Parameters.Add(new NpgsqlParameter<string[]?>("among", among?.Select(id => $"{kind}/{id}").ToArray()));
        read.Parameters.AddWithValue("limit", limit);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<string>();
        while (await rows.ReadAsync(cancelled)) found.Add(rows.GetString(0));
        return found;
    }

    /// <summary>The ids of the stores of a region. A store has its region from its first event on.</summary>
    public static async Task<IReadOnlyList<string>> StoresOf(IQuerySession session, string region, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select substr(stream.id, 7) from setweek.mt_streams as stream
            join setweek.mt_events as opened
              on opened.tenant_id = stream.tenant_id and opened.stream_id = stream.id and opened.version = 1
            where stream.tenant_id = @tenant and stream.id like 'store/%' and opened.data #>> '{store,region,id}' = @region
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("region", region);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<string>();
        while (await rows.ReadAsync(cancelled)) found.Add(rows.GetString(0));
        return found;
    }

    /// <summary>The weeks from the given one on, each with the present version of its stream.</summary>
    /// <param name="stores">Only weeks of these stores; null: of all.</param>
    public static async Task<IReadOnlyList<(string Id, long Version)>> Weeks(
        IQuerySession session, IReadOnlyList<string>? stores, string from, int limit, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select place.id, stream.version from setweek.mt_doc_weekplace as place
            join setweek.mt_streams as stream on stream.tenant_id = place.tenant_id and stream.id = 'week/' || place.id
            where place.tenant_id = @tenant and place.id collate "C" >= @from
              and (@stores is null or place.data ->> 'store' = any(@stores))
            order by place.id collate "C" limit @limit
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("from", from);
        read.Parameters.Add(new NpgsqlParameter<string[]?>("stores", stores?.ToArray()));
        read.Parameters.AddWithValue("limit", limit);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<(string, long)>();
        while (await rows.ReadAsync(cancelled)) found.Add((rows.GetString(0), rows.GetInt64(1)));
        return found;
    }
}
