using Npgsql;

namespace SetWeek.Service.Health;

/// <summary>
/// Looks whether the database answers and can write. It sorts more rows than fit into the memory that it allows, so that
/// PostgreSQL writes a temporary file of about 0.7 MB and removes it: on a full disk that fails, and it leaves nothing behind.
/// </summary>
public sealed class WriteProbe(NpgsqlDataSource database, TimeProvider clock) : IDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(2), Validity = TimeSpan.FromSeconds(1);
    private readonly SemaphoreSlim turn = new(1);
    private (DateTimeOffset Until, string? Fault) last = (DateTimeOffset.MinValue, null);

    public void Dispose() => turn.Dispose();

    /// <summary>
    /// Asks the database, at most once a second whoever asks, and for at most two seconds.
    /// </summary>
    /// <returns>Null if it answers and can write; otherwise a sentence.</returns>
    public async Task<string?> Fault(CancellationToken cancelled)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancelled);
        limit.CancelAfter(Timeout);
        try
        {
            await turn.WaitAsync(limit.Token);
        }
        catch (OperationCanceledException)
        {
            return "The database does not respond.";
        }
        try
        {
            if (clock.GetUtcNow() >= last.Until) last = (clock.GetUtcNow() + Validity, await Ask(limit.Token));
            return last.Fault;
        }
        finally
        {
            turn.Release();
        }
    }

    private async Task<string?> Ask(CancellationToken cancelled)
    {
        try
        {
            await using var connection = await database.OpenConnectionAsync(cancelled);
            await using var transaction = await connection.BeginTransactionAsync(cancelled);
            await using var write = new NpgsqlCommand("""
                set local work_mem = '64kB';
                select count(*) from (select n from generate_series(1, 30000) as n order by n desc offset 0) as sorted;
                select count(*) from (select from setweek.feed limit 1) as one
                """, connection, transaction);
            await write.ExecuteNonQueryAsync(cancelled);
            return null;
        }
        catch (PostgresException refused)
        {
            // 53100: disk full. Other codes of class 53 (insufficient resources) also mean that nothing can be written.
            return refused.SqlState.StartsWith("53", StringComparison.Ordinal)
                ? "The database cannot write: its disk is full, or a limit is reached." : "The database refuses to work.";
        }
        catch (Exception error)
            when (error is NpgsqlException or OperationCanceledException or System.Net.Sockets.SocketException)
        {
            return "The database does not respond.";
        }
    }
}
