using Npgsql;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>Removes records that are too old to count, now and then.</summary>
public sealed class Forgetting(NpgsqlDataSource database, TimeProvider clock, ILogger<Forgetting> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromHours(6);

    public static async Task<int> Once(NpgsqlDataSource database, DateTimeOffset now, CancellationToken cancelled)
    {
        await using var forget = database.CreateCommand("delete from setweek.remembered where at < @oldest");
        forget.Parameters.AddWithValue("oldest", now - Remembered.Kept.ToTimeSpan());
        return await forget.ExecuteNonQueryAsync(cancelled);
    }

    protected override async Task ExecuteAsync(CancellationToken stopping)
    {
        using var timer = new PeriodicTimer(Every, clock);
        do
        {
            try
            {
                await Once(database, clock.GetUtcNow(), stopping);
            }
            catch (NpgsqlException gone)
            {
                log.LogWarning(gone, "Old idempotency records were not removed; next try in {Hours} hours", Every.TotalHours);
            }
        }
        while (await timer.WaitForNextTickAsync(stopping));
    }
}
