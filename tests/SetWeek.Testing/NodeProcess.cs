using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;

namespace SetWeek.Testing;

/// <summary>A node of the service as a separate process, which can be stopped, killed and started again at one address.</summary>
/// <param name="program">The path of the command line's assembly.</param>
public sealed class NodeProcess(string program) : IAsyncDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(90);
    private Process? process;

    public Uri Address { get; } = new($"http://127.0.0.1:{FreePort()}");

    /// <summary>Environment variables of its commands, beside that of the address.</summary>
    public required IReadOnlyList<(string Name, string Value)> Settings { get; init; }

    /// <summary>Takes a line of the log.</summary>
    public Action<string> Output { get; init; } = _ => { };

    /// <summary>Takes a line of the error output.</summary>
    public Action<string> Errors { get; init; } = _ => { };

    public bool IsRunning => process is { HasExited: false };

    /// <summary>CPU time so far.</summary>
    public TimeSpan Cpu
    {
        get
        {
            process!.Refresh();
            return process.TotalProcessorTime;
        }
    }

    /// <summary>Starts it and waits until it is ready.</summary>
    public async Task Start()
    {
        process?.Dispose();
        process = Process.Start(Command("serve"))!;
        process.OutputDataReceived += (_, line) => Pass(line.Data, Output);
        process.ErrorDataReceived += (_, line) => Pass(line.Data, Errors);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        using var client = new HttpClient { BaseAddress = Address };
        await Until(async () =>
        {
            try
            {
                return (await client.GetAsync(new Uri("/health/ready", UriKind.Relative))).IsSuccessStatusCode;
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
        using var limit = new CancellationTokenSource(Timeout);
        await process!.WaitForExitAsync(limit.Token);
        return (Stopwatch.GetElapsedTime(started), process.ExitCode);
    }

    /// <summary>Halts the process for a while (SIGSTOP, SIGCONT), as a node that hangs.</summary>
    public async Task Hang(TimeSpan time)
    {
        await Signal("-STOP");
        await Task.Delay(time);
        await Signal("-CONT");
    }

    /// <summary>The output of another command with the same settings.</summary>
    public string OutputOf(params string[] arguments)
    {
        using var command = Process.Start(Command(arguments))!;
        var output = command.StandardOutput.ReadToEnd().Trim();
        command.WaitForExit();
        return output;
    }

    /// <param name="token">The token of its requests.</param>
    /// <param name="patience">How long it waits for an answer; null: 100 s.</param>
    public HttpClient Client(string token, TimeSpan? patience = null)
    {
        var client = new HttpClient(new SocketsHttpHandler { UseProxy = false, UseCookies = false }, disposeHandler: true)
        {
            BaseAddress = Address,
        };
        if (patience is { } most) client.Timeout = most;
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
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
        if (IsRunning) await Kill();
        process?.Dispose();
    }

    private ProcessStartInfo Command(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [program, .. arguments])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment["SETWEEK_URLS"] = Address.ToString().TrimEnd('/');
        foreach (var (name, value) in Settings) start.Environment[name] = value;
        return start;
    }

    private static void Pass(string? line, Action<string> taker)
    {
        if (line is { Length: > 0 }) taker(line);
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
