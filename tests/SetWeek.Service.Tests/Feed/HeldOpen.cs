using Npgsql;

namespace SetWeek.Service.Tests.Feed;

/// <summary>A transaction of somebody else's that has written and not yet committed.</summary>
public sealed class HeldOpen(NpgsqlConnection connection, NpgsqlTransaction transaction) : IAsyncDisposable
{
    public Task Commit() => transaction.CommitAsync();

    public async ValueTask DisposeAsync()
    {
        await transaction.DisposeAsync(); // rolled back where it was not committed
        await connection.DisposeAsync();
    }
}
