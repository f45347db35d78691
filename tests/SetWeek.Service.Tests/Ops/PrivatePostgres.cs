using System.Diagnostics;
using System.Globalization;

namespace SetWeek.Service.Tests.Ops;

/// <summary>A PostgreSQL server of <c>ops/postgres</c>, which a test can kill and start again. It is removed at the end.</summary>
public sealed class PrivatePostgres(string name) : IAsyncDisposable
{
    /// <summary>The folder in which the script keeps what it knows of the server.</summary>
    public string State { get; } = Repository.PathOf(".setweek", "postgres", name);

    public Task Start() => Succeeds("start");

    /// <summary>The connection string.</summary>
    public Task<string> Url() => Succeeds("url");

    /// <summary>Sends SIGKILL to the server's main process.</summary>
    public async Task Kill()
    {
        var home = await File.ReadAllTextAsync(Path.Combine(State, "home"));
        var pid = File.ReadLines(Path.Combine(home, "data", "postmaster.pid")).First();
        using var server = Process.GetProcessById(int.Parse(pid, CultureInfo.InvariantCulture));
        server.Kill();
    }

    /// <summary>Runs a command of the script.</summary>
    /// <returns>What it prints; the test fails if the script does.</returns>
    public async Task<string> Succeeds(string command)
    {
        var (code, answer, errors) = await Run(command);
        Assert.True(code == 0, errors);
        return answer.Trim();
    }

    public async Task<(int Code, string Answer, string Errors)> Run(string command)
    {
        using var process = Process.Start(new ProcessStartInfo(Repository.PathOf("ops", "postgres"), [command, name])
            { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var (answer, errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        await process.WaitForExitAsync();
        return (process.ExitCode, await answer, await errors);
    }

    public async ValueTask DisposeAsync() => await Run("remove");
}

/// <summary>A test that is skipped where neither PostgreSQL nor npm, which could fetch it, is installed.</summary>
public sealed class PostgresFactAttribute : FactAttribute
{
    public PostgresFactAttribute()
    {
        var paths = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':');
        string[] sources = ["postgres", "npm"];
        var found = Directory.Exists("/usr/lib/postgresql")
            || paths.Any(path => sources.Any(source => File.Exists(Path.Combine(path, source))));
        if (!found) Skip = "Neither PostgreSQL nor npm, which could fetch it, is installed.";
    }
}
