using Marten;
using Npgsql;
using Wolverine.Persistence.Durability;

namespace SetWeek.Service.Storage;

/// <summary>
/// Migrates the database schema before the service accepts requests. Nodes that start together take turns by an advisory lock.
/// </summary>
public sealed class DatabaseSetUp(IDocumentStore store, IMessageStore messages, NpgsqlDataSource database) : IHostedService
{
    public async Task StartAsync(CancellationToken cancelled)
    {
        await using var connection = await database.OpenConnectionAsync(cancelled);
        await Execute(connection, "select pg_advisory_lock(hashtext('setweek.schema'))", cancelled);
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await messages.Admin.MigrateAsync();
        await Execute(connection, "select pg_advisory_unlock_all()", cancelled);
    }

    public Task StopAsync(CancellationToken cancelled) => Task.CompletedTask;

    private static async Task Execute(NpgsqlConnection connection, string sql, CancellationToken cancelled)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(cancelled);
    }
}
