using Npgsql;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>Deletes expired idempotency records every few hours.</summary>
public sealed class IdempotencyCleanUp(NpgsqlDataSource database, TimeProvider clock, ILogger<IdempotencyCleanUp> log)
    : BackgroundService
{
    private static readonly TimeSpan Interval = TimeSpan.FromHours(6);

    public static async Task<int> DeleteExpired(NpgsqlDataSource database, DateTimeOffset now, CancellationToken cancelled)
    {
        await using var delete = database.CreateCommand("delete from setweek.remembered where at < @oldest");
        delete.Parameters.AddWithValue("oldest", now - IdempotencyRecords.Retention.ToTimeSpan());
        return await delete.ExecuteNonQueryAsync(cancelled);
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
            catch (NpgsqlException error)
            {
                log.LogWarning(error, "Expired idempotency records were not deleted; the next attempt is in {Hours} hours",
                    Interval.TotalHours);
            }
        }
        while (await timer.WaitForNextTickAsync(stopping));
    }
}
