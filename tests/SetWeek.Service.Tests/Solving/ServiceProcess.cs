using System.Collections.Concurrent;
using SetWeek.Service.Access;
using SetWeek.Testing;

namespace SetWeek.Service.Tests.Solving;

/// <summary>A node of the service with a database of the tests, and its clients.</summary>
/// <param name="database">Its database. Several processes with the same one are the nodes of one service.</param>
/// <param name="settings">Environment variables beside those of the database, the address, the key and the clock.</param>
public sealed class ServiceProcess(ServiceDatabase database, params (string Name, string Value)[] settings) : IAsyncDisposable
{
    private readonly bool ownsDatabase;
    private NodeProcess? node;

    /// <summary>The lines of the log.</summary>
    public ConcurrentQueue<string> Output { get; } = [];

    /// <summary>A process with a database of its own.</summary>
    public ServiceProcess() : this(new ServiceDatabase(RunningService.Postgres)) => ownsDatabase = true;

    private NodeProcess Node => node ??= new NodeProcess(Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll"))
    {
        Output = Output.Enqueue,
        Settings =
        [
            (Settings.PostgresVariable, database.ConnectionString), (Settings.KeyFileVariable, database.KeyFile),
            (Settings.ClockVariable, database.ClockFile), .. settings,
        ],
    };

    public async Task Start()
    {
        await database.Create();
        // The weeks of the tests lie in March 2027.
        if (!File.Exists(database.ClockFile)) await File.WriteAllTextAsync(database.ClockFile, "2027-03-05T12:00:00Z");
        await Node.Start();
    }

    public Task Kill() => Node.Kill();

    public Task<(TimeSpan Duration, int Code)> Stop() => Node.Stop();

    public Task Hang(TimeSpan time) => Node.Hang(time);

    /// <param name="patience">How long the client waits for an answer; null: 100 s.</param>
    public ApiClient As(string person, Role role, TimeSpan? patience = null) => new(HttpClientAs(person, role, patience));

    public HttpClient HttpClientAs(string person, Role role, TimeSpan? patience = null) => Node.Client(
        Tokens.Issue(SigningKey.ReadOrCreate(database.KeyFile), new Caller("quillmere", person, role, [Caller.AnyStore]),
            TimeProvider.System.GetUtcNow(), TimeSpan.FromMinutes(30)), patience);

    public static Task Until(Func<Task<bool>> condition) => NodeProcess.Until(condition);

    public async ValueTask DisposeAsync()
    {
        if (node is not null) await node.DisposeAsync();
        if (ownsDatabase) await database.DisposeAsync();
    }
}
