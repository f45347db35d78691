using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using SetWeek.Service.Access;

namespace SetWeek.Service.Tests.Solving;

/// <summary>The service as a separate process, so that tests can stop, kill and restart it.</summary>
/// <param name="database">Its database. Several processes with the same one are the nodes of one service.</param>
/// <param name="settings">Environment variables beside those of the database, the address and the key.</param>
public sealed class ServiceProcess(ServiceDatabase database, params (string Name, string Value)[] settings) : IAsyncDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(90);
    private readonly int port = FreePort();
    private readonly bool ownsDatabase;
    private Process? process;

    /// <summary>The lines of the log.</summary>
    public ConcurrentQueue<string> Output { get; } = [];

    /// <summary>A process with a database of its own.</summary>
    public ServiceProcess() : this(new ServiceDatabase(RunningService.Postgres)) => ownsDatabase = true;

    public async Task Start()
    {
        await database.Create();
        process?.Dispose();
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll"), "serve"])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment[Settings.PostgresVariable] = database.ConnectionString;
        start.Environment[Settings.UrlsVariable] = $"http://127.0.0.1:{port}";
        start.Environment[Settings.KeyFileVariable] = database.KeyFile;
        // The weeks of the tests lie in March 2027.
        if (!File.Exists(database.ClockFile)) await File.WriteAllTextAsync(database.ClockFile, "2027-03-05T12:00:00Z");
        start.Environment[Settings.ClockVariable] = database.ClockFile;
        foreach (var (name, value) in settings) start.Environment[name] = value;
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) =>
        {
            if (line.Data is { Length: > 0 } text) Output.Enqueue(text);
        };
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
        await Signal("-TERM");
        await process!.WaitForExitAsync(new CancellationTokenSource(Timeout).Token);
        return (Stopwatch.GetElapsedTime(started), process.ExitCode);
    }

    /// <summary>Halts the process for a while (SIGSTOP, SIGCONT), as a node that hangs.</summary>
    public async Task Hang(TimeSpan time)
    {
        await Signal("-STOP");
        await Task.Delay(time);
        await Signal("-CONT");
    }

    /// <param name="patience">How long the client waits for an answer; null: 100 s.</param>
    public ApiClient As(string person, Role role, TimeSpan? patience = null) => new(HttpClientAs(person, role, patience));

    public HttpClient HttpClientAs(string person, Role role, TimeSpan? patience = null)
    {
        var client = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{port}") };
        if (patience is { } most) client.Timeout = most;
        client.DefaultRequestHeaders.Authorization = new("Bearer", Tokens.Issue(SigningKey.ReadOrCreate(database.KeyFile),
            new Caller("quillmere", person, role, [Caller.AnyStore]), TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(30)));
        return client;
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
        if (ownsDatabase) await database.DisposeAsync();
    }

    private async Task Signal(string signal)
    {
        using var sent = Process.Start("kill", [signal, $"{process!.Id}"]);
        await sent.WaitForExitAsync();
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
