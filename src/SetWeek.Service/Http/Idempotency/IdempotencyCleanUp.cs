using Npgsql;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>Deletes expired idempotency records every few hours.</summary>
public sealed class IdempotencyCleanUp(NpgsqlDataSource database, TimeProvider clock, ILogger<IdempotencyCleanUp> log)
    : BackgroundService
{
    private static readonly TimeSpan Interval = TimeSpan.FromHours(6);

    public static async Task<int> DeleteExpired(NpgsqlDataSource database, DateTimeOffset now, CancellationToken cancelled)
    {
        await using var forget = database.CreateCommand("delete from setweek.remembered where at < @oldest");
        forget.Parameters.AddWithValue("oldest", now - IdempotencyRecords.Retention.ToTimeSpan());
        return await forget.ExecuteNonQueryAsync(cancelled);
    }

    protected override async Task ExecuteAsync(CancellationToken stopping)
    {
        using var timer = new PeriodicTimer(Interval, clock);
        do
        {
            try
            {
                await DeleteExpired(database, clock.GetUtcNow(), stopping);
            }
            catch (NpgsqlException gone)
            {
                log.LogWarning(gone, "Old idempotency records were not removed; next try in {Hours} hours", Interval.TotalHours);
            }
        }
        while (await timer.WaitForNextTickAsync(stopping));
    }
}
