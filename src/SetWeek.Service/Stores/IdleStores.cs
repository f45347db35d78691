using System.Globalization;
using Marten;
using NodaTime;
using Npgsql;
using SetWeek.Service.Pages.HeadOffice;

namespace SetWeek.Service.Stores;

/// <summary>The stores without a week, so that their leads and head office find where to open one.</summary>
internal static class IdleStores
{
    private const int Most = 200;

    public static StoresPage.IdleStores None { get; } = new([], IsCut: false);

    /// <param name="stores">Only these; null: all of the chain.</param>
    /// <param name="launchFrom">A week that launches earlier does not count.</param>
    /// <returns>They are in the order of their names.</returns>
    public static async Task<StoresPage.IdleStores> Read(
        IQuerySession session, IReadOnlyList<string>? stores, LocalDate launchFrom, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select substr(stream.id, 7), opened.data #>> '{store,name}' from setweek.mt_streams as stream
            join setweek.mt_events as opened
              on opened.tenant_id = stream.tenant_id and opened.stream_id = stream.id and opened.version = 1
            where stream.tenant_id = @tenant and stream.id like 'store/%' and (@stores is null or stream.id = any(@stores))
              and not exists (select from setweek.figures as week where week.tenant_id = @tenant
                and 'store/' || (week.figures ->> 'store') = stream.id and week.figures ->> 'launch' >= @launch)
            order by 2, 1 limit @most
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.Add(new NpgsqlParameter<string[]?>("stores", stores?.Select(id => $"store/{id}").ToArray()));
        read.Parameters.AddWithValue("launch", launchFrom.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture));
        read.Parameters.AddWithValue("most", Most + 1);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<(string, string)>();
        while (await rows.ReadAsync(cancelled)) found.Add((rows.GetString(0), rows.GetString(1)));
        return new StoresPage.IdleStores([.. found.Take(Most)], found.Count > Most);
    }
}
