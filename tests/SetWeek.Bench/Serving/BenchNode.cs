using SetWeek.Testing;

namespace SetWeek.Bench.Serving;

/// <summary>A node of the real service. ops/bench gives it the command line's file and a PostgreSQL with fsync on.</summary>
internal sealed class BenchNode : IAsyncDisposable
{
    private const string Tenant = "bench";
    private readonly BenchNode? first;
    private readonly string folder, clock;
    private NodeProcess? node;

    public BenchNode()
    {
        folder = Directory.CreateTempSubdirectory("setweek-bench-").FullName;
        clock = Path.Combine(folder, "clock");
        SetClock("2027-03-05T12:00:00Z"); // before the weeks
    }

    /// <summary>Another node, with the database, the key and the clock of the first.</summary>
    public BenchNode(BenchNode first) =>
        (this.first, folder, clock, SeveralNodes) = (first, first.folder, first.clock, true);

    public bool SeveralNodes { get; init; }

    public static string Postgres => Given("SETWEEK_POSTGRES");

    public bool IsRunning => node is { IsRunning: true };

    /// <summary>CPU time of the service so far.</summary>
    public TimeSpan Cpu => Node.Cpu;

    private NodeProcess Node => node ??= new NodeProcess(Given("SETWEEK_CLI"))
    {
        Errors = Console.Error.WriteLine,
        Settings =
        [
            ("SETWEEK_CLOCK_FILE", clock), ("SETWEEK_KEY_FILE", Path.Combine(folder, "signing.key")),
            .. SeveralNodes ? [("SETWEEK_NODES", "several")] : Array.Empty<(string, string)>(),
        ],
    };

    public Task Start() => Node.Start();

    /// <summary>Sets the clock of planning.</summary>
    public void SetClock(string time) => File.WriteAllText(clock, time);

    public Task Stop() => Node.Stop();

    /// <summary>Kills it (SIGKILL).</summary>
    public Task Kill() => Node.Kill();

    /// <summary>A client with a token, and with as many connections as it has requests under way.</summary>
    public HttpClient As(string role) => Node.Client(
        Node.OutputOf("token", "--tenant", Tenant, "--person", "bench", "--role", role, "--store", "*"), TimeSpan.FromMinutes(2));

    public async ValueTask DisposeAsync()
    {
        if (IsRunning) await node!.Stop();
        if (node is not null) await node.DisposeAsync();
        if (first is null) Directory.Delete(folder, recursive: true);
    }

    private static string Given(string variable) => Environment.GetEnvironmentVariable(variable) is { Length: > 0 } value ? value
        : throw new InvalidOperationException($"{variable} is missing; run ops/bench service.");
}
