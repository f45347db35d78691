using System.Security.Cryptography;
using Alba;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Clocks;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Tests;

/// <summary>One service with a real PostgreSQL for all tests of the collection. Each test uses a tenant of its own.</summary>
public sealed class RunningService : IAsyncLifetime
{
    private readonly string keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");

    public IAlbaHost Host { get; private set; } = null!;

    public Settings Settings { get; private set; } = null!;

    /// <summary>The clock of planning. It stands still, and a test moves it.</summary>
    public TestClock Clock { get; } = new();

    public async Task InitializeAsync()
    {
        Settings = new Settings { Postgres = Postgres, KeyFile = keyFile, AnswerPatience = TimeSpan.FromSeconds(1), WebhookLoopback = true,
            WebhookWaits = [.. Enumerable.Repeat(TimeSpan.FromSeconds(0.3), 3)] };
        var builder = Hosting.Builder(Settings);
        builder.Services.AddSingleton(Clock).AddSingleton(new PlanningClock(() => Clock.Now));
        Host = await AlbaHost.For(builder, Hosting.Map);
    }

    public async Task DisposeAsync()
    {
        if (Host is not null) await Host.DisposeAsync(); // null if the start failed
        File.Delete(keyFile);
    }

    /// <summary>The connection string. Without it these tests fail; they are not skipped.</summary>
    public static string Postgres =>
        Environment.GetEnvironmentVariable(Settings.PostgresVariable) is { Length: > 0 } given ? given
        : throw new InvalidOperationException(
            $"These tests need a PostgreSQL: run ops/test, or set {Settings.PostgresVariable}.");

    /// <summary>All stored events of a tenant as text, including their type names and headers.</summary>
    public Task<string> EventsOf(Chain chain) =>
        Rows(chain, "select to_jsonb(e) as row from setweek.mt_events e where tenant_id = $1");

    /// <summary>All stored documents of a tenant as text.</summary>
    public Task<string> DocumentsOf(Chain chain) => Rows(chain, """
        select data as row from setweek.mt_doc_crewfile where tenant_id = $1 union all
        select data from setweek.mt_doc_note where tenant_id = $1 union all
        select data from setweek.mt_doc_candidateplan where tenant_id = $1
        """);

    /// <summary>All stored requests for plans of a tenant, with their results, as text.</summary>
    public Task<string> CandidatesOf(Chain chain) =>
        Rows(chain, "select data as row from setweek.mt_doc_candidateplan where tenant_id = $1");

    private async Task<string> Rows(Chain chain, string select)
    {
        await using var read = Host.Services.GetRequiredService<NpgsqlDataSource>()
            .CreateCommand($"select coalesce(string_agg(row::text, E'\n' order by row::text), '') from ({select}) as found");
        read.Parameters.AddWithValue(chain.Tenant);
        return (string)(await read.ExecuteScalarAsync())!;
    }

    /// <summary>Lets no search begin until the result is disposed, so that a test sees requests that wait.</summary>
    public async Task<IAsyncDisposable> HoldSearches()
    {
        var connection = await Host.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        await connection.BeginTransactionAsync(); // it ends with its connection, and the lock with it
        await SolveClaims.LockClaims(connection, CancellationToken.None);
        return connection;
    }

    /// <summary>Creates a tenant that no other test uses, and sets the clock to before the weeks of the tests.</summary>
    public Chain NewChain()
    {
        Clock.Reset();
        return new Chain(Host, SigningKey.ReadOrCreate(keyFile), $"chain-{RandomNumberGenerator.GetHexString(10, lowercase: true)}");
    }
}

[CollectionDefinition(Name)]
public sealed class ServiceCollection : ICollectionFixture<RunningService>
{
    public const string Name = "service";
}
