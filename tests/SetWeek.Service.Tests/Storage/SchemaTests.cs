using System.Security.Cryptography;
using Marten;
using Npgsql;
using SetWeek.Domain.Stores;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Storage;

/// <summary>Compares the configured schema with a database of its own, by Marten's schema management.</summary>
public sealed class SchemaTests : IAsyncLifetime
{
    private readonly string database = $"setweek_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";
    private NpgsqlDataSource source = null!;
    private DocumentStore store = null!;

    public async Task InitializeAsync()
    {
        await ExecuteOnServer($"create database {database}");
        source = NpgsqlDataSource.Create(
            new NpgsqlConnectionStringBuilder(RunningService.Postgres) { Database = database }.ConnectionString);
        store = DocumentStore.For(options => MartenConfiguration.Configure(options, source));
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
    }

    public async Task DisposeAsync()
    {
        await store.DisposeAsync();
        await source.DisposeAsync();
        await ExecuteOnServer($"drop database if exists {database} with (force)");
    }

    [Fact]
    public Task After_the_set_up_the_schema_matches() => store.Storage.Database.AssertDatabaseMatchesConfigurationAsync();

    [Theory]
    [InlineData("drop table setweek.remembered")]
    [InlineData("drop index setweek.feed_place")]
    [InlineData("drop function setweek.feed_give_places")]
    [InlineData("drop trigger feed_wait on setweek.mt_events")]
    [InlineData("drop table setweek.feed_head")]
    [InlineData("drop table setweek.browser_session")]
    public async Task Missing_schema_objects_are_created(string removal)
    {
        await Run(removal);
        await Assert.ThrowsAnyAsync<Exception>(() => store.Storage.Database.AssertDatabaseMatchesConfigurationAsync());
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await store.Storage.Database.AssertDatabaseMatchesConfigurationAsync();
    }

    /// <summary>A database from before the feed existed: after the set-up its events are in the feed.</summary>
    [Fact]
    public async Task Events_older_than_the_feed_are_added_to_it()
    {
        await using (var session = store.LightweightSession("quillmere"))
        {
            session.Events.StartStream("store/harbour-street",
                new StoreOpened(new StoreProfile("harbour-street", "Harbour Street", "Europe/London", [], [], [])));
            await session.SaveChangesAsync();
        }
        await Run("drop trigger feed_wait on setweek.mt_events; delete from setweek.feed");
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await using var reading = store.QuerySession("quillmere");
        Assert.Equal(1, Assert.Single((await FeedOrder.ReadAfter(reading, 0, 10, [], CancellationToken.None)).Entries).Place);
    }

    /// <summary>
    /// A database from before tombstones were left out: its trigger has no condition, a tombstone has a row, and the last places
    /// of its chains are not stored.
    /// </summary>
    [Fact]
    public async Task Rows_of_tombstones_are_removed_and_the_places_of_events_stay()
    {
        await Run("""
            drop trigger feed_wait on setweek.mt_events;
            create trigger feed_wait after insert on setweek.mt_events for each row execute function setweek.feed_wait();
            """);
        await using (var session = store.LightweightSession("quillmere"))
        {
            session.Events.StartStream("store/harbour-street",
                new StoreOpened(new StoreProfile("harbour-street", "Harbour Street", "Europe/London", [], [], [])));
            await session.SaveChangesAsync();
            session.Events.StartStream("store/mill-lane",
                new StoreOpened(new StoreProfile("mill-lane", "Mill Lane", "Europe/London", [], [], [])));
            await session.SaveChangesAsync();
        }
        await Run("""
            update setweek.mt_events set type = 'tombstone' where stream_id = 'store/harbour-street';
            select setweek.feed_give_places('quillmere');
            delete from setweek.feed_head;
            """);
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        await store.Storage.Database.AssertDatabaseMatchesConfigurationAsync();
        await using var reading = store.QuerySession("quillmere");
        var found = await FeedOrder.ReadGiven(reading, 0, 10, [], CancellationToken.None);
        Assert.Equal(("store/mill-lane", 2, 2),
            (Assert.Single(found.Entries).Stream, found.Entries[0].Place, found.End));
    }

    private async Task Run(string sql)
    {
        await using var command = source.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }

    private static async Task ExecuteOnServer(string sql)
    {
        await using var server = NpgsqlDataSource.Create(RunningService.Postgres);
        await using var command = server.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
