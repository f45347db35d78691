using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Npgsql;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests.Solving;

/// <summary>
/// The service as a separate process with its own database, so that tests can stop, kill and restart it.
/// </summary>
public sealed class ServiceProcess : IAsyncDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(90);
    private readonly string database = $"setweek_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";
    private readonly string keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");
    private readonly int port = FreePort();
    private Process? process;

    public async Task Start()
    {
        if (process is null) await Execute($"create database {database}");
        process?.Dispose();
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll"), "serve"])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment[Settings.PostgresVariable] =
            new NpgsqlConnectionStringBuilder(RunningService.Postgres) { Database = database }.ConnectionString;
        start.Environment[Settings.UrlsVariable] = $"http://127.0.0.1:{port}";
        start.Environment[Settings.KeyFileVariable] = keyFile;
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        using var client = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{port}") };
        await Until(async () =>
        {
            try
            {
                return (await client.GetAsync("/health/ready")).IsSuccessStatusCode;
            }
            catch (HttpRequestException)
            {
                return process.HasExited ? throw new InvalidOperationException($"The service ended with {process.ExitCode}.")
                    : false;
            }
        });
    }

    public async Task Kill()
    {
        process!.Kill(); // SIGKILL: no clean-up
        await process.WaitForExitAsync();
    }

    /// <summary>Sends SIGTERM. Returns the time to the end and the exit code.</summary>
    public async Task<(TimeSpan Duration, int Code)> Stop()
    {
        var started = Stopwatch.GetTimestamp();
        using (var signal = Process.Start("kill", ["-TERM", $"{process!.Id}"])) await signal.WaitForExitAsync();
        await process.WaitForExitAsync(new CancellationTokenSource(Timeout).Token);
        return (Stopwatch.GetElapsedTime(started), process.ExitCode);
    }

    public ApiClient As(string person, Role role)
    {
        var client = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{port}") };
        client.DefaultRequestHeaders.Authorization = new("Bearer", Tokens.Issue(SigningKey.ReadOrCreate(keyFile),
            new Caller("quillmere", person, role, [Caller.AnyStore]), TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(30)));
        return new ApiClient(client);
    }

    public static async Task Until(Func<Task<bool>> condition)
    {
        for (var started = Stopwatch.GetTimestamp(); Stopwatch.GetElapsedTime(started) < Timeout; await Task.Delay(50))
            if (await condition()) return;
        throw new TimeoutException($"The condition was not met within {Timeout.TotalSeconds} seconds.");
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false }) await Kill();
        process?.Dispose();
        File.Delete(keyFile);
        await Execute($"drop database if exists {database} with (force)");
    }

    private static async Task Execute(string sql)
    {
        await using var source = NpgsqlDataSource.Create(RunningService.Postgres);
        await using var command = source.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
