using System.Diagnostics;
using Npgsql;

namespace SetWeek.Service.Tests.Ops;

/// <summary>Tests ops/postgres: a private server is set up, killed, started again and removed.</summary>
public sealed class PrivatePostgresTests : IAsyncLifetime
{
    private readonly string name = $"trial-{Environment.ProcessId}";

    private string State => Repository.PathOf(".setweek", "postgres", name);

    public Task InitializeAsync() => Task.CompletedTask;

    public Task DisposeAsync() => Ops("remove");

    [ServerFact]
    public async Task A_private_server_needs_the_password_and_keeps_its_data_after_a_kill()
    {
        await Succeeds("start");
        var url = await Succeeds("url");
        Assert.Equal("on", await Query(url, "show fsync"));
        Assert.StartsWith("SCRAM-SHA-256$", await Query(url, "select rolpassword from pg_authid where rolname = 'setweek'"));
        Assert.Equal("127.0.0.1", await Query(url, "show listen_addresses"));
        var refused = await Assert.ThrowsAsync<PostgresException>(() =>
            Query(url.Replace("Password=", "Password=x"), "select 1"));
        Assert.Equal(PostgresErrorCodes.InvalidPassword, refused.SqlState);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Path.Combine(State, "password")));

        await Query(url, "create table kept as select 'yes' as answer");
        await Succeeds("start");
        Assert.Equal(url, await Succeeds("url"));

        var home = await File.ReadAllTextAsync(Path.Combine(State, "home"));
        var pid = File.ReadLines(Path.Combine(home, "data", "postmaster.pid")).First();
        Process.GetProcessById(int.Parse(pid, System.Globalization.CultureInfo.InvariantCulture)).Kill();
        NpgsqlConnection.ClearAllPools();
        await Succeeds("start");
        Assert.Equal("yes", await Query(await Succeeds("url"), "select answer from kept"));
    }

    [ServerFact]
    public async Task A_stopped_server_has_no_address_and_a_removed_one_leaves_nothing()
    {
        await Succeeds("start");
        await Succeeds("stop");
        var (code, _, errors) = await Ops("url");
        Assert.Equal((1, $"ops/postgres: no server '{name}' runs here: ops/postgres start {name}"), (code, errors.Trim()));
        await Succeeds("remove");
        Assert.False(Path.Exists(State));
    }

    private static async Task<string?> Query(string url, string sql)
    {
        await using var data = NpgsqlDataSource.Create(url);
        await using var command = data.CreateCommand(sql);
        return (await command.ExecuteScalarAsync())?.ToString();
    }

    private async Task<string> Succeeds(string command)
    {
        var (code, answer, errors) = await Ops(command);
        Assert.True(code == 0, errors);
        return answer.Trim();
    }

    private async Task<(int Code, string Answer, string Errors)> Ops(string command)
    {
        using var process = Process.Start(new ProcessStartInfo(Repository.PathOf("ops", "postgres"), [command, name])
            { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var (answer, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return (process.ExitCode, await answer, await errors);
    }

    /// <summary>A test that is skipped where neither PostgreSQL nor npm is installed.</summary>
    private sealed class ServerFactAttribute : FactAttribute
    {
        public ServerFactAttribute()
        {
            var paths = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':');
            string[] sources = ["postgres", "npm"];
            var found = Directory.Exists("/usr/lib/postgresql")
                || paths.Any(path => sources.Any(source => File.Exists(Path.Combine(path, source))));
            if (!found)
                Skip = "Neither PostgreSQL nor npm, which could fetch it, is installed.";
        }
    }
}
