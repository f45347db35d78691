using Marten;
using Npgsql;

namespace SetWeek.Service.Lists;

/// <summary>The present names of several stores or directions, and the regions of a chain, each read with one query.</summary>
public static class StreamNames
{
    /// <summary>The names of stores by id. One that does not exist is missing.</summary>
    public static Task<IReadOnlyDictionary<string, string>> OfStores(
        IQuerySession session, IEnumerable<string> ids, CancellationToken cancelled) => Of(session, "store", ids, cancelled);

    /// <summary>The names of directions by id. One that does not exist is missing.</summary>
    public static Task<IReadOnlyDictionary<string, string>> OfDirections(
        IQuerySession session, IEnumerable<string> ids, CancellationToken cancelled) => Of(session, "direction", ids, cancelled);

    /// <summary>The names of the regions by id.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> OfRegions(IQuerySession session, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select distinct on (1) opened.data #>> '{store,region,id}', opened.data #>> '{store,region,name}'
            from setweek.mt_streams as stream join setweek.mt_events as opened
              on opened.tenant_id = stream.tenant_id and opened.stream_id = stream.id and opened.version = 1
            where stream.tenant_id = @tenant and stream.id like 'store/%' and opened.data #>> '{store,region,id}' is not null
            order by 1
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        return await Pairs(session, read, cancelled);
    }

    /// <param name="kind">"store" or "direction": its events have a member of that name with the whole new value.</param>
    private static async Task<IReadOnlyDictionary<string, string>> Of(
        IQuerySession session, string kind, IEnumerable<string> ids, CancellationToken cancelled)
    {
        var streams = ids.Distinct().Select(id => $"{kind}/{id}").ToArray();
        if (streams.Length == 0) return new Dictionary<string, string>();
        await using var read = new NpgsqlCommand("""
            select distinct on (stream_id) substr(stream_id, length(@kind) + 2), data #>> array[@kind, 'name']
            from setweek.mt_events
            where tenant_id = @tenant and stream_id = any(@streams) and data #>> array[@kind, 'name'] is not null
            order by stream_id, version desc
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("kind", kind);
        read.Parameters.AddWithValue("streams", streams);
        return await Pairs(session, read, cancelled);
    }

    private static async Task<IReadOnlyDictionary<string, string>> Pairs(
        IQuerySession session, NpgsqlCommand read, CancellationToken cancelled)
    {
        var found = new Dictionary<string, string>();
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        while (await rows.ReadAsync(cancelled)) found[rows.GetString(0)] = rows.GetString(1);
        return found;
    }
}
