using Marten;
using Npgsql;
using SetWeek.Service.Feed;
using SetWeek.Service.Idempotency;

namespace SetWeek.Service;

/// <summary>Everything that the database needs, made before anybody asks it anything.</summary>
public sealed class StorageSetUp(IDocumentStore store, NpgsqlDataSource database) : IHostedService
{
    public async Task StartAsync(CancellationToken cancelled)
    {
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        // Services that start together take turns: "create if not exists" races otherwise. One command is one transaction.
        await using var ours = database.CreateCommand(
            $"select pg_advisory_xact_lock(hashtext('setweek.schema'));{Remembered.Schema}{FeedOrder.Schema}");
        await ours.ExecuteNonQueryAsync(cancelled);
    }

    public Task StopAsync(CancellationToken cancelled) => Task.CompletedTask;
}
