using System.Diagnostics;
using Npgsql;
using SetWeek.Testing;

namespace SetWeek.Bench.Serving;

/// <summary>
/// The real service over HTTP, with weeks of real size and a PostgreSQL with fsync on: reports a second with a commit before each
/// answer, beside what pgbench inserts in the same run; latencies at 70 % of it; reads; the lag of the feed.
/// </summary>
internal static class ServiceBench
{
    private const int Weeks = 200, Reported = 8, Filled = 2, Readers = 200;

    public static async Task<int> Run(string[] arguments)
    {
        var time = TimeSpan.FromSeconds(arguments.Length > 0 && int.TryParse(arguments[0], out var seconds) ? seconds : 10);
        int[] clients = [.. arguments.Skip(1).Select(int.Parse).DefaultIfEmpty(0)];
        if (clients is [0]) clients = [1, 8, 32, 128];
        await using var database = NpgsqlDataSource.Create(BenchNode.Postgres);
        await using var service = new BenchNode();
        await service.Start();
        using var lead = service.As("lead");
        using var head = service.As("head-office");
        var started = Stopwatch.GetTimestamp();
        var chain = new BenchChain(head, lead);
        await chain.Open(Weeks, Reported + Filled);
        service.SetClock("2027-03-20T12:00:00Z"); // after the weeks, so that no report is of the future
        await PgBench.Prepare(database);
        JsonLines.Print(new
        {
            set = "service", weeks = Weeks, reported = Reported, fsync = await Setting(database, "fsync"),
            synchronousCommit = await Setting(database, "synchronous_commit"), cores = Environment.ProcessorCount,
            setUpSeconds = Math.Round(Stopwatch.GetElapsedTime(started).TotalSeconds),
        });
        Task<bool> report() => Report(lead, chain, Reported);
        await Load.Closed(8, TimeSpan.FromSeconds(3), report); // until the code is compiled
        var bytes = await PgBench.RowBytes(database);

        var best = 0.0;
        foreach (var count in clients)
        {
            var rows = await PgBench.Run(count, time, bytes);
            var cpu = service.Cpu;
            var load = await Load.Closed(count, time, report);
            best = Math.Max(best, load.PerSecond);
            JsonLines.Print(new
            {
                figure = "reports", clients = count, perSecond = Math.Round(load.PerSecond), load.Latencies, load.Failed,
                pgbenchRowsPerSecond = Math.Round(rows), rowBytes = bytes, ratio = Math.Round(load.PerSecond / rows, 2),
                cpuMilliseconds = Math.Round((service.Cpu - cpu).TotalMilliseconds / (load.PerSecond * time.TotalSeconds), 2),
            });
        }
        await OneWeek(lead, chain, time);
        await WithBlocks(lead, chain, time);
        await AtSeventyPercent(lead, head, chain, best, time);
        await WithLiveReaders(lead, head, chain, best, time);
        await Reads(lead, chain, service);
        return 0;
    }

    private static async Task OneWeek(HttpClient lead, BenchChain chain, TimeSpan time)
    {
        var load = await Load.Closed(8, time, () => Report(lead, chain, weeks: 1));
        JsonLines.Print(new
        {
            figure = "reports on one week", clients = 8, perSecond = Math.Round(load.PerSecond), load.Latencies, load.Failed,
        });
    }

    private static async Task WithBlocks(HttpClient lead, BenchChain chain, TimeSpan time)
    {
        var load = await Load.Closed(32, time, () => Report(lead, chain, Reported, blocked: 20));
        JsonLines.Print(new
        {
            figure = "reports, one in twenty a block", clients = 32, perSecond = Math.Round(load.PerSecond), load.Latencies,
            load.Failed,
        });
    }

    /// <summary>
    /// Mixed: reports at 70 % of the best rate, ten reads of weeks a second, a reader of the feed and, in a second run, 200 readers of
    /// the live stream.
    /// </summary>
    private static async Task AtSeventyPercent(HttpClient lead, HttpClient head, BenchChain chain, double best, TimeSpan time)
    {
        using var end = new CancellationTokenSource();
        var feed = new FeedLag(head);
        var following = feed.Follow(end.Token);
        await Task.Delay(TimeSpan.FromSeconds(5)); // until the reader has caught up with what is there
        var read = 0;
        var reading = Load.Paced(10, time, () => Read(lead, chain.Weeks[Interlocked.Increment(ref read) % chain.Weeks.Count]));
        var load = await Load.Paced(best * 0.7, time, () => Report(lead, chain, Reported));
        var reads = await reading;
        await Task.Delay(TimeSpan.FromSeconds(1));
        await end.CancelAsync();
        await following;
        JsonLines.Print(new
        {
            figure = "reports at 70 %", perSecond = Math.Round(load.PerSecond), load.Latencies, load.Failed, reads = reads.Latencies,
            feedLag = feed.Lags, feedEvents = feed.Count,
        });
    }

    private static async Task WithLiveReaders(HttpClient lead, HttpClient head, BenchChain chain, double best, TimeSpan time)
    {
        using var end = new CancellationTokenSource();
        var live = new LiveReaders(head);
        if (await live.Open(Readers, end.Token) is not { } reading)
        {
            JsonLines.Print(new { figure = "live readers", readers = 0, reason = "The service has no /feed/stream." });
            return;
        }
        // Every event goes to every reader, so the rate is a tenth of that without them.
        var load = await Load.Paced(best * 0.07, time, () => Report(lead, chain, Reported));
        await Task.Delay(TimeSpan.FromSeconds(2));
        await end.CancelAsync();
        await reading;
        JsonLines.Print(new
        {
            figure = "live readers", readers = Readers, perSecond = Math.Round(load.PerSecond), load.Latencies, load.Failed,
            lag = live.Lags, deliveries = live.Count,
        });
    }

    private static async Task Reads(HttpClient lead, BenchChain chain, BenchNode service)
    {
        foreach (var (index, events) in ((int[])[300, 3000]).Index())
        {
            var week = chain.Published[Reported + index].Week;
            await chain.Fill(week, events);
            for (var warm = 0; warm < 50; warm++) await Read(lead, week);
            var load = await Load.Closed(1, TimeSpan.FromSeconds(3), () => Read(lead, week));
            JsonLines.Print(new { figure = "read of a week", events = await chain.Version(week), load.Latencies });
        }
        await AllWeeks(lead, chain, known: true);
        await service.Stop();
        await service.Start();
        await AllWeeks(lead, chain, known: false);
        await service.Stop();
        await service.Start();
        foreach (var known in (bool[])[false, true])
        {
            var (listed, pages) = (Stopwatch.GetTimestamp(), 0);
            for (var next = "/weeks?limit=200"; next is not null; pages++) next = await NextPage(lead, next);
            JsonLines.Print(new { figure = "list of 200 weeks", known, pages, milliseconds = Since(listed) });
        }
    }

    private static async Task<string?> NextPage(HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative));
        answer.EnsureSuccessStatusCode();
        await answer.Content.ReadAsByteArrayAsync();
        return answer.Headers.TryGetValues("Link", out var link) ? PageLink.NextOf(link.Single()) : null;
    }

    private static async Task AllWeeks(HttpClient lead, BenchChain chain, bool known)
    {
        var (started, next) = (Stopwatch.GetTimestamp(), -1);
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async _ =>
        {
            for (int week; (week = Interlocked.Increment(ref next)) < chain.Weeks.Count;) await Read(lead, chain.Weeks[week]);
        }));
        JsonLines.Print(new { figure = "200 weeks, four clients", known, milliseconds = Since(started) });
    }

    private static double Since(long started) => Math.Round(Stopwatch.GetElapsedTime(started).TotalMilliseconds);

    private static async Task<bool> Report(HttpClient client, BenchChain chain, int weeks, int blocked = 0)
    {
        var (path, body) = chain.NextReport(weeks, blocked);
        using var content = BenchChain.Json(body);
        using var answer = await client.PostAsync(new Uri(path, UriKind.Relative), content);
        return answer.IsSuccessStatusCode;
    }

    private static Task<bool> Read(HttpClient client, string week) => Get(client, $"/weeks/{week}");

    private static async Task<bool> Get(HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative));
        await answer.Content.ReadAsByteArrayAsync();
        return answer.IsSuccessStatusCode;
    }

    private static async Task<string> Setting(NpgsqlDataSource database, string name)
    {
        await using var show = database.CreateCommand($"show {name}");
        return (string)(await show.ExecuteScalarAsync())!;
    }
}
