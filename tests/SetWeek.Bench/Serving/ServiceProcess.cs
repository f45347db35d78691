using System.Diagnostics;
using System.Net.Http.Headers;
using System.Net.Sockets;

namespace SetWeek.Bench.Serving;

/// <summary>
/// The real service as a process of its own. ops/bench gives it the command line's file and a PostgreSQL with fsync on.
/// </summary>
internal sealed class ServiceProcess : IAsyncDisposable
{
    private const string Tenant = "bench";
    private readonly ServiceProcess? first;
    private readonly string folder, clock;
    private readonly Uri address = new($"http://127.0.0.1:{FreePort()}");
    private Process? process;

    public ServiceProcess()
    {
        folder = Directory.CreateTempSubdirectory("setweek-bench-").FullName;
        clock = Path.Combine(folder, "clock");
        SetClock("2027-03-05T12:00:00Z"); // before the weeks
    }

    /// <summary>Another node, with the database, the key and the clock of the first.</summary>
    public ServiceProcess(ServiceProcess first) =>
        (this.first, folder, clock, SeveralNodes) = (first, first.folder, first.clock, true);

    public bool SeveralNodes { get; init; }

    public static string Postgres => Given("SETWEEK_POSTGRES");

    public async Task Start()
    {
        process = Process.Start(Command("serve"))!;
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, line) => Console.Error.WriteLine(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        using var client = new HttpClient { BaseAddress = address };
        for (var attempt = 0; attempt < 600; attempt++, await Task.Delay(100))
        {
            if (process.HasExited) throw new InvalidOperationException($"The service ended with {process.ExitCode}.");
            try
            {
                if ((await client.GetAsync(new Uri("/health/ready", UriKind.Relative))).IsSuccessStatusCode) return;
            }
            catch (HttpRequestException)
            {
                // Not yet.
            }
        }
        throw new TimeoutException("The service was not ready within a minute.");
    }

    /// <summary>Sets the clock of planning.</summary>
    public void SetClock(string time) => File.WriteAllText(clock, time);

    /// <summary>CPU time of the service so far.</summary>
    public TimeSpan Cpu
    {
        get
        {
            process!.Refresh();
            return process.TotalProcessorTime;
        }
    }

    public async Task Stop()
    {
        using (var signal = Process.Start("kill", ["-TERM", $"{process!.Id}"])) await signal.WaitForExitAsync();
        await process.WaitForExitAsync();
        process.Dispose();
        process = null;
    }

    /// <summary>Kills it (SIGKILL).</summary>
    public async Task Kill()
    {
        process!.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        process = null;
    }

    /// <summary>A client with a token, and with as many connections as it has requests under way.</summary>
    public HttpClient As(string role)
    {
        var start = Command("token", "--tenant", Tenant, "--person", "bench", "--role", role, "--store", "*");
        start.RedirectStandardOutput = true;
        using var token = Process.Start(start)!;
        var client = new HttpClient(new SocketsHttpHandler { UseProxy = false, UseCookies = false }, disposeHandler: true)
        {
            BaseAddress = address, Timeout = TimeSpan.FromMinutes(2),
        };
        client.DefaultRequestHeaders.Authorization =
            new AuthenticationHeaderValue("Bearer", token.StandardOutput.ReadToEnd().Trim());
        token.WaitForExit();
        return client;
    }

    public async ValueTask DisposeAsync()
    {
        if (process is not null) await Stop();
        if (first is null) Directory.Delete(folder, recursive: true);
    }

    private ProcessStartInfo Command(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [Given("SETWEEK_CLI"), .. arguments])
        {
            RedirectStandardOutput = true, RedirectStandardError = true,
        };
        start.Environment["SETWEEK_URLS"] = address.ToString().TrimEnd('/');
        start.Environment["SETWEEK_CLOCK_FILE"] = clock;
        if (SeveralNodes) start.Environment["SETWEEK_NODES"] = "several";
        start.Environment["SETWEEK_KEY_FILE"] = Path.Combine(folder, "signing.key");
        return start;
    }

    private static string Given(string variable) => Environment.GetEnvironmentVariable(variable) is { Length: > 0 } value ? value
        : throw new InvalidOperationException($"{variable} is missing; run ops/bench service.");

    private static int FreePort()
    {
        using var listener = new TcpListener(System.Net.IPAddress.Loopback, 0);
        listener.Start();
        return ((System.Net.IPEndPoint)listener.LocalEndpoint).Port;
    }
}
