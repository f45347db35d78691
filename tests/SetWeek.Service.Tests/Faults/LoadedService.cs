using System.Text.Json.Nodes;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Ops;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Faults;

/// <summary>
/// Two nodes of the service on a PostgreSQL server of their own, under a load whose clients record every acknowledgement: phones
/// that report work, a lead who requests plans, and head office, which follows the feed.
/// </summary>
internal sealed class LoadedService(PrivatePostgres postgres, ServiceDatabase database, int seed) : IAsyncDisposable
{
    private const int Weeks = 3, PhonesPerWeek = 2;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);
    private readonly CancellationTokenSource end = new(), allWritten = new(), allStreamed = new();
    private readonly List<string> plans = [];
    private IReadOnlyList<Phone> phones = [];
    private Task load = Task.CompletedTask, following = Task.CompletedTask, streaming = Task.CompletedTask;
    private Persistence lead = null!, headOffice = null!, engineer = null!;
    private FeedReader reader = null!;
    private StreamFollower stream = null!;

    public PrivatePostgres Postgres => postgres;

    public IReadOnlyList<ServiceProcess> Nodes { get; } =
        [.. Enumerable.Range(0, 2).Select(_ => new ServiceProcess(database, (Settings.NodesVariable, "several")))];

    public static async Task<LoadedService> Create(string name, int seed)
    {
        var postgres = new PrivatePostgres(name);
        await postgres.Start();
        return new LoadedService(postgres, new ServiceDatabase(await postgres.Url()), seed);
    }

    /// <summary>Starts both nodes at once on the empty database, opens the weeks and publishes a plan of each.</summary>
    public async Task Start()
    {
        await database.Create();
        await Task.WhenAll(Nodes.Select(node => node.Start()));
        lead = new Persistence([.. Nodes.Select(node => node.As("lena", Role.Lead, Patience))]);
        headOffice = new Persistence([.. Nodes.Select(node => node.As("ada", Role.HeadOffice, Patience))]);
        engineer = new Persistence([.. Nodes.Select(node => node.As("eva", Role.Engineer, Patience))]);
        (reader, stream) = (new FeedReader(headOffice), new StreamFollower(Nodes));
        await Do(201, headOffice.Ask(node => node.Post("/directions", FirstRain.Direction)));
        await Do(201, headOffice.Ask(node => node.Post("/stores", Samples.Store())));
        string[] ids = [.. Enumerable.Range(1, Weeks).Select(number => $"week-{number}")];
        foreach (var id in ids) await Open(id);
        phones = [.. ids.SelectMany((week, index) => Enumerable.Range(1, PhonesPerWeek).Select(number =>
            new Phone($"{week}.phone-{number}", week, lead, new Random(seed * 100 + index * 10 + number))))];
        load = Task.WhenAll([.. phones.Select(phone => phone.SendUntil(end.Token)), RequestPlans(ids)]);
        following = reader.FollowUntil(allWritten.Token);
        streaming = stream.FollowUntil(allStreamed.Token);
    }

    /// <summary>Lets the load run for a while. Fails if a client of it has failed.</summary>
    public async Task Run(TimeSpan time)
    {
        var first = await Task.WhenAny(load, following, streaming, Task.Delay(time));
        await first;
    }

    /// <summary>Ends the load and compares what the clients know with what the service and the database hold.</summary>
    public async Task<FaultCounts> Verify()
    {
        await end.CancelAsync();
        await load;
        await allWritten.CancelAsync();
        await following;
        await Verification.OfReports(database.ConnectionString, phones);
        foreach (var week in phones.GroupBy(phone => phone.Week))
            await Verification.OfWeek(await Do(200, lead.Ask(node => node.Get($"/weeks/{week.Key}"))), week);
        var fresh = new FeedReader(headOffice);
        await fresh.FollowUntil(new CancellationToken(canceled: true));
        Verification.OfFeed(reader.Seen, fresh.Seen);
        await ServiceProcess.Until(() => Task.FromResult(stream.Seen.Count >= fresh.Seen.Count));
        await allStreamed.CancelAsync();
        await streaming;
        Assert.Equal(fresh.Seen.Select(entry => entry.Id), stream.Seen);
        foreach (var plan in plans) await Settled(plan);
        var live = await Figures();
        await Do(202, engineer.Ask(node => node.Send(HttpMethod.Post, "/figures/rebuild", (string?)null)));
        Assert.Equal(live, await Figures());
        return new FaultCounts(phones.Sum(phone => phone.Acknowledged.Count), plans.Count, reader.Seen.Count, stream.Connections,
            live.Count, lead.Failures + headOffice.Failures);
    }

    public async ValueTask DisposeAsync()
    {
        await end.CancelAsync();
        foreach (var node in Nodes) await node.DisposeAsync();
        NpgsqlConnection.ClearAllPools();
        File.Delete(database.KeyFile);
        File.Delete(database.ClockFile);
        await postgres.DisposeAsync();
        end.Dispose();
        allWritten.Dispose();
        allStreamed.Dispose();
    }

    /// <summary>The nights lie in the past, so that every report may be dated within them.</summary>
    private async Task Open(string week)
    {
        var opening = FirstRain.Opening.Replace(FirstRain.Id, week).Replace("2027-03", "2025-03");
        await Do(201, lead.Ask(node => node.Post("/weeks", opening)));
        var plan = await Request(week);
        await Settled(plan);
        var read = await Do(200, lead.Ask(node => node.Get($"/weeks/{week}")));
        await Do(204, lead.Ask(node => node.Post($"{plan}/publish", "{}", ("If-Match", read.ETag!))));
    }

    private async Task RequestPlans(IReadOnlyList<string> weeks)
    {
        for (var number = 0; !end.IsCancellationRequested; number++)
        {
            plans.Add(await Request(weeks[number % weeks.Count], $"request-{seed}-{number}"));
            await Run(TimeSpan.FromSeconds(1));
        }
    }

    private async Task<string> Request(string week, string? key = null) =>
        (await Do(202, lead.Ask(node => node.Post($"/weeks/{week}/plans", """{"seconds": 1, "workers": 1}""",
            key is null ? [] : [("Idempotency-Key", key)])))).Location!;

    private Task Settled(string plan) => ServiceProcess.Until(async () =>
        (string?)(await Do(200, lead.Ask(node => node.Get(plan)))).Json["state"] is not ("queued" or "solving"));

    /// <summary>The figures of each week, once they have the version of the week.</summary>
    private async Task<IReadOnlyList<string>> Figures()
    {
        var versions = new List<long>();
        foreach (var week in phones.Select(phone => phone.Week).Distinct().Order(StringComparer.Ordinal))
            versions.Add((long)(await Do(200, lead.Ask(node => node.Get($"/weeks/{week}")))).Json["version"]!);
        IReadOnlyList<JsonNode> read = [];
        await ServiceProcess.Until(async () =>
        {
            read = [.. (await Do(200, headOffice.Ask(node => node.Get("/figures")))).Json["weeks"]!.AsArray().Select(week => week!)];
            return read.Select(week => (long)week["version"]!).SequenceEqual(versions);
        });
        return [.. read.Select(week => week["figures"]!.ToJsonString())];
    }

    private static async Task<ApiResponse> Do(int status, Task<ApiResponse> request) =>
        await FirstRain.ExpectStatus(status, request);
}

/// <param name="Reports">Reports acknowledged, each found exactly once.</param>
/// <param name="Plans">Plans requested, each settled.</param>
/// <param name="FeedEvents">Events read from the feed while faults happened, the same as those of a fresh reader.</param>
/// <param name="Streams">Connections to the stream of the feed, which together gave the same events in the same order.</param>
/// <param name="Weeks">Weeks whose figures, computed again from the first event, equal the live ones.</param>
/// <param name="Failures">Attempts without an answer, or with a 5xx answer, which the clients repeated.</param>
internal sealed record FaultCounts(int Reports, int Plans, int FeedEvents, int Streams, int Weeks, int Failures);
