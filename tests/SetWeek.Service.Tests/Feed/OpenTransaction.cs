using Npgsql;

namespace SetWeek.Service.Tests.Feed;

/// <summary>A transaction of another session that has written and not yet committed.</summary>
public sealed class OpenTransaction(NpgsqlConnection connection, NpgsqlTransaction transaction) : IAsyncDisposable
{
    public Task Commit() => transaction.CommitAsync();

    public async ValueTask DisposeAsync()
    {
        await transaction.DisposeAsync(); // rolls back if not committed
        await connection.DisposeAsync();
    }
}
