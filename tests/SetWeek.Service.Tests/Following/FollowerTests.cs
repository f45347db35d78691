using System.Security.Cryptography;
using Marten;
using Marten.Services;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Following;
using SetWeek.Service.Tests.Feed;
using SetWeek.Service.Tests.Solving;

namespace SetWeek.Service.Tests.Following;

[Collection(ServiceCollection.Name)]
public sealed class FollowerTests(RunningService service) : IAsyncLifetime, IDisposable
{
    private readonly Recorder recorder = new($"test-{RandomNumberGenerator.GetHexString(8, lowercase: true)}");
    private readonly CancellationTokenSource stop = new();
    private readonly List<Task> loops = [];

    public Task InitializeAsync() => Recorder.CreateTable(Database);

    public async Task DisposeAsync()
    {
        await stop.CancelAsync();
        await Task.WhenAll(loops);
    }

    public void Dispose() => stop.Dispose();

    [Fact]
    public async Task Each_event_is_followed_once_in_order_while_an_append_is_held_open_and_another_rolled_back()
    {
        var chain = service.NewChain();
        Run(recorder);
        await using var held = await Open(chain, "week/held");
        await (await Open(chain, "week/rolled-back")).DisposeAsync();
        foreach (var n in Enumerable.Range(1, 20)) await Append(chain, $"week/w{n % 3}", (n + 2) / 3);
        await Recorded(recorder, chain, 20);
        await held.Commit();
        var all = await Recorded(recorder, chain, 21);
        Assert.Equal(Enumerable.Range(1, 21).Select(place => (long)place), all.Select(entry => entry.Place));
        Assert.Equal("week/held", all[^1].Stream);
    }

    [Fact]
    public async Task Of_two_nodes_one_follows_and_the_other_takes_over_when_its_connection_ends()
    {
        var chain = service.NewChain();
        Run(recorder);
        Run(recorder);
        await Append(chain, "week/w", 1);
        await Recorded(recorder, chain, 1);
        var first = await Holder();
        await using (var kill = Database.CreateCommand("select pg_terminate_backend($1)"))
        {
            kill.Parameters.AddWithValue(first);
            await kill.ExecuteNonQueryAsync();
        }
        foreach (var n in Enumerable.Range(2, 9)) await Append(chain, "week/w", n);
        var all = await Recorded(recorder, chain, 10);
        Assert.Equal(Enumerable.Range(1, 10).Select(place => (long)place), all.Select(entry => entry.Place));
        Assert.NotEqual(first, await Holder());
    }

    [Fact]
    public async Task A_chain_in_which_a_follower_fails_holds_back_itself_alone()
    {
        var (failing, other) = (service.NewChain(), service.NewChain());
        var follower = new Recorder(recorder.Name, fails: failing.Tenant);
        Run(follower);
        await Append(failing, "week/w", 1);
        await Append(other, "week/w", 1);
        await Recorded(follower, other, 1);
        await Append(other, "week/w", 2);
        await Recorded(follower, other, 2);
        Assert.Empty(await follower.Recorded(Database, failing.Tenant));
    }

    [Fact]
    public async Task An_engineer_reads_the_place_and_the_lag_of_each_follower()
    {
        var chain = service.NewChain();
        var engineer = chain.As("eva", Role.Engineer);
        Run(recorder);
        await Append(chain, "week/w", 1);
        await Recorded(recorder, chain, 1);
        var read = await View();
        Assert.Equal((true, 1, 0, 0), ((bool)read["running"]!, (long)read["place"]!, (long)read["behind"]!,
            (long)read["lagMilliseconds"]!));

        await stop.CancelAsync();
        await Task.WhenAll(loops);
        await Append(chain, "week/w", 2);
        await Append(chain, "week/w", 3);
        await Task.Delay(20);
        read = await View();
        Assert.Equal((false, 1, 2), ((bool)read["running"]!, (long)read["place"]!, (long)read["behind"]!));
        Assert.InRange((long)read["lagMilliseconds"]!, 20, 60_000);
        Assert.Equal(403, (await chain.HeadOffice.Get("/followers")).Status);

        async Task<System.Text.Json.Nodes.JsonNode> View() => (await engineer.Get("/followers")).Json["followers"]!.AsArray()
            .Single(follower => (string)follower!["name"]! == recorder.Name)!;
    }

    private NpgsqlDataSource Database => service.Host.Services.GetRequiredService<NpgsqlDataSource>();

    private IDocumentStore Store => service.Host.Services.GetRequiredService<IDocumentStore>();

    /// <summary>Runs the follower as a node would.</summary>
    private void Run(IFollower follower) => loops.Add(Task.Run(() => new FollowerLoop(follower, Store,
        new FollowerLocks(RunningService.Postgres), TimeProvider.System, NullLogger<FollowerLoop>.Instance).Run(stop.Token)));

    private async Task<IReadOnlyList<(long Place, string Stream)>> Recorded(Recorder follower, Chain chain, int count)
    {
        await ServiceProcess.Until(async () => (await follower.Recorded(Database, chain.Tenant)).Count >= count);
        return await follower.Recorded(Database, chain.Tenant);
    }

    /// <summary>The server process that holds the recorder's lock.</summary>
    private async Task<int> Holder()
    {
        await using var read = Database.CreateCommand("""
            select pid from pg_locks where locktype = 'advisory' and granted and objsubid = 1
              and (classid::bigint << 32 | objid::bigint) = hashtextextended('setweek.follower.' || $1, 0)
            """);
        read.Parameters.AddWithValue(recorder.Name);
        return (int)(await read.ExecuteScalarAsync())!;
    }

    private async Task<OpenTransaction> Open(Chain chain, string stream)
    {
        var connection = await Database.OpenConnectionAsync();
        var transaction = await connection.BeginTransactionAsync();
        var options = SessionOptions.ForTransaction(transaction);
        options.TenantId = chain.Tenant;
        await using var session = Store.LightweightSession(options);
        await Append(session, stream, 1);
        return new OpenTransaction(connection, transaction);
    }

    private async Task Append(Chain chain, string stream, int version)
    {
        await using var session = Store.LightweightSession(chain.Tenant);
        await Append(session, stream, version);
    }

    private static Task Append(IDocumentSession session, string stream, int version)
    {
        var e = new KitExpected("kit", new LocalDateTime(2027, 3, 8, 22, 0));
        if (version == 1) session.Events.StartStream(stream, e);
        else session.Events.Append(stream, version, e);
        return session.SaveChangesAsync();
    }
}
