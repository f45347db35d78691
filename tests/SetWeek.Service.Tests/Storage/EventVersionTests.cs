using System.Security.Cryptography;
using Marten;
using Npgsql;
using SetWeek.Service.Storage;
using Weasel.Core;

namespace SetWeek.Service.Tests.Storage;

/// <summary>
/// An event gets a second version, in a schema of its own. The events here are none of the product: once a crate had a number of
/// boxes, and now it has the weight of each.
/// </summary>
public sealed class EventVersionTests : IAsyncLifetime
{
    private sealed record CrateBoxes(string Crate, int Boxes);

    private sealed record CrateWeights(string Crate, IReadOnlyList<int?> Kilograms);

    private static readonly Dictionary<Type, string> Once = new() { [typeof(CrateBoxes)] = "crate-sent" },
        Now = new() { [typeof(CrateWeights)] = "crate-sent.v2" };

    private static readonly Dictionary<string, OlderForm> Older = new()
    {
        ["crate-sent"] = new(typeof(CrateWeights), stored => new CrateWeights(
            stored.RootElement.GetProperty("crate").GetString()!,
            [.. Enumerable.Repeat((int?)null, stored.RootElement.GetProperty("boxes").GetInt32())])),
    };

    private readonly string schema = $"versions_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        await using var source = NpgsqlDataSource.Create(RunningService.Postgres);
        await using var drop = source.CreateCommand($"drop schema if exists {schema} cascade");
        await drop.ExecuteNonQueryAsync();
    }

    [Fact]
    public async Task An_event_of_the_first_version_is_read_as_one_of_the_second_everywhere()
    {
        await using (var before = Store(Once, []))
        {
            await using var session = before.LightweightSession();
            session.Events.StartStream("crate/1", new CrateBoxes("c1", 2));
            await session.SaveChangesAsync();
        }
        await using var store = Store(Now, Older);
        await using (var session = store.LightweightSession())
        {
            session.Events.Append("crate/1", new CrateWeights("c1", [12, null]));
            await session.SaveChangesAsync();
        }
        await using var read = store.QuerySession();
        var stream = await read.Events.FetchStreamAsync("crate/1");
        Assert.Equal([2, 2], stream.Select(e => Assert.IsType<CrateWeights>(e.Data).Kilograms.Count));
        Assert.Equal(["crate-sent", "crate-sent.v2"], stream.Select(e => e.EventTypeName));
        // As the feed reads, by sequence numbers.
        var raw = await read.Events.QueryAllRawEvents().Where(e => e.Sequence.IsOneOf(1L, 2L)).ToListAsync();
        Assert.Equal([null, 12], raw.OrderBy(e => e.Sequence).Select(e => Assert.IsType<CrateWeights>(e.Data).Kilograms[0]));
    }

    private DocumentStore Store(Dictionary<Type, string> names, Dictionary<string, OlderForm> older) => DocumentStore.For(options =>
    {
        options.Connection(RunningService.Postgres);
        options.DatabaseSchemaName = schema;
        options.UseSystemTextJsonForSerialization(EnumStorage.AsString, Casing.CamelCase);
        options.Events.StreamIdentity = JasperFx.Events.StreamIdentity.AsString;
        StoredEvents.Map(options.Events, names, older);
    });
}
