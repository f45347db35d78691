using System.Globalization;
using System.Text.Json;
using Marten;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Figures;
using SetWeek.Service.Json;

namespace SetWeek.Service.Figures;

/// <summary>The figures of a week at a version of its stream.</summary>
public sealed record StoredFigures(long Version, WeekFigures Figures)
{
    /// <summary>All of the session's chain, in the order of the weeks' ids.</summary>
    public static Task<IReadOnlyList<StoredFigures>> All(IQuerySession session, CancellationToken cancelled) =>
        Read(session, null, null, null, cancelled);

    /// <summary>Those of a direction, or those that launch on a date or later; in the order of the weeks' ids.</summary>
    /// <param name="stores">Only weeks of these stores; null: of all.</param>
    public static async Task<IReadOnlyList<StoredFigures>> Read(IQuerySession session, string? direction, LocalDate? launchFrom,
        IReadOnlyList<string>? stores, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand("""
            select version, figures from setweek.figures
            where tenant_id = @tenant and (@direction is null or figures ->> 'direction' = @direction)
              and (@launch is null or figures ->> 'launch' >= @launch)
              and (@stores is null or figures ->> 'store' = any(@stores))
            order by week collate "C"
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.Add(new NpgsqlParameter<string?>("direction", direction));
        // Launches are stored as ISO 8601, which sorts as text.
        read.Parameters.Add(new NpgsqlParameter<string?>("launch",
            launchFrom?.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)));
        read.Parameters.Add(new NpgsqlParameter<string[]?>("stores", stores?.ToArray()));
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<StoredFigures>();
        while (await rows.ReadAsync(cancelled))
            found.Add(new StoredFigures(rows.GetInt64(0),
                JsonSerializer.Deserialize<WeekFigures>(rows.GetString(1), JsonFormat.Options)!));
        return found;
    }
}
