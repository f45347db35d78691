using Marten;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Npgsql;
using Wolverine.Persistence.Durability;

namespace SetWeek.Service.Storage;

/// <summary>
/// Migrates the database schema before the service accepts requests, and makes the first key of data protection. Nodes that start
/// together take turns by an advisory lock, so that all have that key.
/// </summary>
public sealed class DatabaseSetUp(
    IDocumentStore store, IMessageStore messages, NpgsqlDataSource database, IKeyManager keys,
    TimeProvider clock) : IHostedService
{
    /// <summary>The lifetime that the framework gives to later keys.</summary>
    private static readonly TimeSpan KeyLifetime = TimeSpan.FromDays(90);

    public async Task StartAsync(CancellationToken cancelled)
    {
        await using var connection = await database.OpenConnectionAsync(cancelled);
        await Execute(connection, "select pg_advisory_lock(hashtext('setweek.schema'))", cancelled);
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await messages.Admin.MigrateAsync();
        if (keys.GetAllKeys().Count == 0) keys.CreateNewKey(clock.GetUtcNow(), clock.GetUtcNow() + KeyLifetime);
        await Execute(connection, "select pg_advisory_unlock_all()", cancelled);
    }

    public Task StopAsync(CancellationToken cancelled) => Task.CompletedTask;

    private static async Task Execute(NpgsqlConnection connection, string sql, CancellationToken cancelled)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(cancelled);
    }
}
