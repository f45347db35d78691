using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Npgsql;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests.Solving;

/// <summary>
/// The service as a process of its own, with a database of its own, so that it can be stopped, killed and started again.
/// </summary>
public sealed class ServiceProcess : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);
    private readonly string database = $"setweek_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";
    private readonly string keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");
    private readonly int port = FreePort();
    private Process? process;

    public async Task Start()
    {
        if (process is null) await Ask($"create database {database}");
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
        process!.Kill(); // SIGKILL: nothing is tidied up
        await process.WaitForExitAsync();
    }

    /// <summary>SIGTERM; how long it took to end, and its exit code.</summary>
    public async Task<(TimeSpan Took, int Code)> Stop()
    {
        var started = Stopwatch.GetTimestamp();
        using (var signal = Process.Start("kill", ["-TERM", $"{process!.Id}"])) await signal.WaitForExitAsync();
        await process.WaitForExitAsync(new CancellationTokenSource(Patience).Token);
        return (Stopwatch.GetElapsedTime(started), process.ExitCode);
    }

    public Voice As(string person, Role role)
    {
        var client = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{port}") };
        client.DefaultRequestHeaders.Authorization = new("Bearer", Tokens.Issue(SigningKey.ReadOrCreate(keyFile),
            new Caller("quillmere", person, role, [Caller.AnyStore]), TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(30)));
        return new Voice(client);
    }

    public static async Task Until(Func<Task<bool>> holds)
    {
        for (var started = Stopwatch.GetTimestamp(); Stopwatch.GetElapsedTime(started) < Patience; await Task.Delay(50))
            if (await holds()) return;
        throw new TimeoutException($"It did not come true within {Patience.TotalSeconds} seconds.");
    }

    public async ValueTask DisposeAsync()
    {
        if (process is { HasExited: false }) await Kill();
        process?.Dispose();
        File.Delete(keyFile);
        await Ask($"drop database if exists {database} with (force)");
    }

    private static async Task Ask(string sql)
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
