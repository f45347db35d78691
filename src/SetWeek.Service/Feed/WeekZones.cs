using Marten;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>The time zones of the stores of weeks. A week keeps the zone that its store had when the week was opened.</summary>
public static class WeekZones
{
    /// <summary>The first event of a week contains its store.</summary>
    private const string ReadZones = """
        select stream_id, data -> 'week' -> 'store' ->> 'timeZone' from setweek.mt_events
        where tenant_id = @tenant and stream_id = any(@streams) and version = 1 and data -> 'week' is not null
        """;

    /// <summary>Reads the zones of the weeks that this node does not know, in one query.</summary>
    /// <param name="streams">Streams of any kind, each once.</param>
    public static async Task<IReadOnlyDictionary<string, string>> Of(
        IQuerySession session, IReadOnlyCollection<string> streams, CancellationToken cancelled)
    {
        var zones = new Dictionary<string, string>();
        var unknown = new List<string>();
        foreach (var stream in streams.Where(stream => stream.StartsWith(Streams.WeekKey(""), StringComparison.Ordinal)))
            if (Streams.KnownWeek(session, stream[Streams.WeekKey("").Length..])?.State is { } week)
                zones.Add(stream, week.Week.Store.TimeZone);
            else unknown.Add(stream);
        if (unknown.Count == 0) return zones;
        await using var read = new NpgsqlCommand(ReadZones);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("streams", NpgsqlDbType.Array | NpgsqlDbType.Text, unknown.ToArray());
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        while (await rows.ReadAsync(cancelled))
            if (!rows.IsDBNull(1)) zones.Add(rows.GetString(0), rows.GetString(1));
        return zones;
    }
}
