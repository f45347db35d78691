using System.Diagnostics;
using Npgsql;

namespace SetWeek.Service.Tests.Ops;

/// <summary>ops/postgres: a server that is set up, killed, started again and removed, beside whatever else runs here.</summary>
public sealed class PrivatePostgresTests : IAsyncLifetime
{
    private readonly string name = $"trial-{Environment.ProcessId}";

    private string State => Repository.PathOf(".setweek", "postgres", name);

    public Task InitializeAsync() => Task.CompletedTask;

    public Task DisposeAsync() => Ops("remove");

    [ServerFact]
    public async Task It_takes_the_password_alone_writes_through_and_survives_a_kill_with_its_data()
    {
        await Succeeds("start");
        var url = await Succeeds("url");
        Assert.Equal("on", await Ask(url, "show fsync"));
        Assert.StartsWith("SCRAM-SHA-256$", await Ask(url, "select rolpassword from pg_authid where rolname = 'setweek'"));
        Assert.Equal("127.0.0.1", await Ask(url, "show listen_addresses"));
        var refused = await Assert.ThrowsAsync<PostgresException>(() => Ask(url.Replace("Password=", "Password=x"), "select 1"));
        Assert.Equal(PostgresErrorCodes.InvalidPassword, refused.SqlState);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Path.Combine(State, "password")));

        await Ask(url, "create table kept as select 'yes' as answer");
        await Succeeds("start");
        Assert.Equal(url, await Succeeds("url"));

        var home = await File.ReadAllTextAsync(Path.Combine(State, "home"));
        var pid = File.ReadLines(Path.Combine(home, "data", "postmaster.pid")).First();
        Process.GetProcessById(int.Parse(pid, System.Globalization.CultureInfo.InvariantCulture)).Kill();
        NpgsqlConnection.ClearAllPools();
        await Succeeds("start");
        Assert.Equal("yes", await Ask(await Succeeds("url"), "select answer from kept"));
    }

    [ServerFact]
    public async Task What_is_stopped_has_no_address_and_what_is_removed_leaves_nothing()
    {
        await Succeeds("start");
        await Succeeds("stop");
        var (code, _, said) = await Ops("url");
        Assert.Equal((1, $"ops/postgres: no server '{name}' runs here: ops/postgres start {name}"), (code, said.Trim()));
        await Succeeds("remove");
        Assert.False(Path.Exists(State));
    }

    private static async Task<string?> Ask(string url, string question)
    {
        await using var data = NpgsqlDataSource.Create(url);
        await using var command = data.CreateCommand(question);
        return (await command.ExecuteScalarAsync())?.ToString();
    }

    private async Task<string> Succeeds(string command)
    {
        var (code, answer, said) = await Ops(command);
        Assert.True(code == 0, said);
        return answer.Trim();
    }

    private async Task<(int Code, string Answer, string Said)> Ops(string command)
    {
        using var process = Process.Start(new ProcessStartInfo(Repository.PathOf("ops", "postgres"), [command, name])
            { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var (answer, said) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return (process.ExitCode, await answer, await said);
    }

    /// <summary>Skipped, and said to be, where there is nothing to make a server of.</summary>
    private sealed class ServerFactAttribute : FactAttribute
    {
        public ServerFactAttribute()
        {
            var paths = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':');
            string[] sources = ["postgres", "npm"];
            var found = Directory.Exists("/usr/lib/postgresql")
                || paths.Any(path => sources.Any(source => File.Exists(Path.Combine(path, source))));
            if (!found)
                Skip = "There is no PostgreSQL installed here, and no npm to fetch one.";
        }
    }
}
