using Marten;
using Npgsql;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Solving;

/// <summary>The claim table in a database of its own, used by two nodes.</summary>
public sealed class ClaimTable : IAsyncDisposable
{
    private static readonly CancellationToken Never = CancellationToken.None;
    private readonly ServiceDatabase database;

    private ClaimTable(ServiceDatabase database)
    {
        this.database = database;
        Source = NpgsqlDataSource.Create(database.ConnectionString);
        Store = DocumentStore.For(options => MartenConfiguration.Configure(options, Source));
        (First, Second) = (new SolveClaims(Source, "first"), new SolveClaims(Source, "second"));
    }

    public NpgsqlDataSource Source { get; }

    public DocumentStore Store { get; }

    public SolveClaims First { get; }

    public SolveClaims Second { get; }

    public static async Task<ClaimTable> Create()
    {
        var database = new ServiceDatabase(RunningService.Postgres);
        await database.Create();
        var table = new ClaimTable(database);
        await table.Store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        return table;
    }

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        await Source.DisposeAsync();
        await database.DisposeAsync();
    }

    public async Task Ask(string tenant, string plan, SolvePriority priority = SolvePriority.Lead, string? week = null)
    {
        await using var session = Store.LightweightSession(tenant);
        session.Ask(week ?? $"week-of-{plan}", plan, priority);
        await session.SaveChangesAsync();
    }

    public static async Task<ClaimedSolve> Claim(SolveClaims node) =>
        await node.Claim([], Never) ?? throw new InvalidOperationException("Nothing could be claimed.");

    /// <summary>Claims and ends one request after another, as a node with one place does.</summary>
    public async Task<List<string>> ClaimAll()
    {
        var order = new List<string>();
        while (await First.Claim([], Never) is { } claim)
        {
            order.Add(claim.Plan);
            Assert.True(await End(claim, First.Node));
        }
        return order;
    }

    public async Task<bool> EndWithBest(string plan)
    {
        await using var session = Store.LightweightSession("quillmere");
        var isAsked = await session.EndWithBest(plan, Never);
        await session.SaveChangesAsync();
        return isAsked;
    }

    public async Task<bool> End(ClaimedSolve claim, string node)
    {
        await using var session = Store.LightweightSession(claim.Tenant);
        await session.BeginTransactionAsync(Never);
        var ended = await session.End(claim, node);
        await session.SaveChangesAsync();
        return ended;
    }

    public Task EndAll(string plan) => Execute($"delete from setweek.solve_requests where plan = '{plan}'");

    /// <summary>As if six seconds had passed without a heartbeat.</summary>
    public Task Expire() => Execute("update setweek.solve_requests set lease = lease - interval '6 seconds'");

    private async Task Execute(string sql)
    {
        await using var command = Source.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
