using Npgsql;

namespace SetWeek.Service.Following;

/// <summary>
/// Connections that hold the advisory locks of followers. They are not pooled: closing one ends its session on the server and so
/// releases its lock. The server closes the session of a dead node too; keep-alives find one that cannot be reached.
/// </summary>
public sealed class FollowerLocks(string postgres)
{
    private readonly string connectionString = new NpgsqlConnectionStringBuilder(postgres)
    {
        Pooling = false, ApplicationName = "setweek follower",
    }.ConnectionString;

    public async Task<NpgsqlConnection> Open(CancellationToken cancelled)
    {
        var connection = new NpgsqlConnection(connectionString);
        try
        {
            await connection.OpenAsync(cancelled);
            await using var keepAlive = new NpgsqlCommand(
                "set tcp_keepalives_idle = 2; set tcp_keepalives_interval = 1; set tcp_keepalives_count = 3", connection);
            await keepAlive.ExecuteNonQueryAsync(cancelled);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    /// <summary>Takes the lock of a follower if no other node has it.</summary>
    public static async Task<bool> TryTake(NpgsqlConnection connection, string follower, CancellationToken cancelled)
    {
        await using var take = new NpgsqlCommand("select pg_try_advisory_lock(hashtextextended(@key, 0))", connection);
        take.Parameters.AddWithValue("key", $"setweek.follower.{follower}");
        return (bool)(await take.ExecuteScalarAsync(cancelled))!;
    }
}
