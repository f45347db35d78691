using Npgsql;
using SetWeek.Service.Health;

namespace SetWeek.Service.Tests.Health;

[Collection(ServiceCollection.Name)]
public sealed class ReadyTests(RunningService service)
{
    /// <summary>
    /// temp_file_limit makes PostgreSQL refuse a temporary file, as a full disk does. The code differs: 53400, not 53100.
    /// </summary>
    [Fact]
    public async Task A_database_that_cannot_write_is_not_ready()
    {
        Assert.Equal(200, (await service.NewChain().HeadOffice.Get(HealthEndpoints.Ready)).Status);
        await using var full = NpgsqlDataSource.Create(
            new NpgsqlConnectionStringBuilder(RunningService.Postgres) { Options = "-c temp_file_limit=0" }.ConnectionString);
        using var probe = new WriteProbe(full, TimeProvider.System);
        Assert.Contains("cannot write", await probe.Fault(CancellationToken.None));
    }

    [Fact]
    public async Task A_database_that_is_away_is_not_ready_and_the_answer_comes_soon()
    {
        await using var away = NpgsqlDataSource.Create("Host=127.0.0.1;Port=1;Username=setweek;Database=setweek");
        using var probe = new WriteProbe(away, TimeProvider.System);
        var started = System.Diagnostics.Stopwatch.GetTimestamp();
        Assert.Equal("The database does not respond.", await probe.Fault(default));
        Assert.True(System.Diagnostics.Stopwatch.GetElapsedTime(started) < TimeSpan.FromSeconds(5));
    }

    /// <summary>However often it is asked, it writes at most once a second.</summary>
    [Fact]
    public async Task Many_questions_at_once_are_one_probe()
    {
        await using var database = NpgsqlDataSource.Create(
            new NpgsqlConnectionStringBuilder(RunningService.Postgres) { MaxPoolSize = 1 }.ConnectionString);
        using var probe = new WriteProbe(database, new FixedClock());
        Assert.Null(await probe.Fault(default));
        await database.DisposeAsync(); // a second probe would fail
        Assert.All(await Task.WhenAll(Enumerable.Range(0, 50).Select(_ => probe.Fault(default))), Assert.Null);
    }

    private sealed class FixedClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2027, 3, 8, 20, 0, 0, TimeSpan.Zero);
    }
}
