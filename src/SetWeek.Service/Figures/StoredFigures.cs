using System.Text.Json;
using Marten;
using Npgsql;
using SetWeek.Domain.Figures;
using SetWeek.Service.Json;

namespace SetWeek.Service.Figures;

/// <summary>The figures of a week at a version of its stream.</summary>
public sealed record StoredFigures(long Version, WeekFigures Figures)
{
    /// <summary>All of the session's chain, in the order of the weeks' ids.</summary>
    public static async Task<IReadOnlyList<StoredFigures>> All(IQuerySession session, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(
            "select version, figures from setweek.figures where tenant_id = @tenant order by week collate \"C\"");
        read.Parameters.AddWithValue("tenant", session.TenantId);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var found = new List<StoredFigures>();
        while (await rows.ReadAsync(cancelled))
            found.Add(new StoredFigures(rows.GetInt64(0),
                JsonSerializer.Deserialize<WeekFigures>(rows.GetString(1), JsonFormat.Options)!));
        return found;
    }
}
