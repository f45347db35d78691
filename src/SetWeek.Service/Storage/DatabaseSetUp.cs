using Marten;
using Npgsql;
using Wolverine.Persistence.Durability;

namespace SetWeek.Service.Storage;

/// <summary>
/// Everything that the database needs, made before anybody asks it anything. Services that start together take turns.
/// </summary>
public sealed class DatabaseSetUp(IDocumentStore store, IMessageStore messages, NpgsqlDataSource database) : IHostedService
{
    public async Task StartAsync(CancellationToken cancelled)
    {
        await using var turn = await database.OpenConnectionAsync(cancelled);
        await Execute(turn, "select pg_advisory_lock(hashtext('setweek.schema'))", cancelled);
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await messages.Admin.MigrateAsync();
        await Execute(turn, "select pg_advisory_unlock_all()", cancelled);
    }

    public Task StopAsync(CancellationToken cancelled) => Task.CompletedTask;

    private static async Task Execute(NpgsqlConnection turn, string sql, CancellationToken cancelled)
    {
        await using var command = new NpgsqlCommand(sql, turn);
        await command.ExecuteNonQueryAsync(cancelled);
    }
}
