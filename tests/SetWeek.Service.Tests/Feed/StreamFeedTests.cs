using System.Diagnostics;
using System.Text;
using System.Text.Json.Nodes;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Feed;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Tests.Solving;

namespace SetWeek.Service.Tests.Feed;

[Collection(ServiceCollection.Name)]
public sealed class StreamFeedTests(RunningService service)
{
    private static readonly LocalDateTime Eta = new(2027, 3, 8, 22, 0);

    [Fact]
    public async Task The_stream_has_the_contents_of_the_feed_in_its_order_before_and_after_the_connection()
    {
        var chain = service.NewChain();
        await Append(chain, 1, 3);
        await using var stream = await chain.Stream("/feed/stream");
        Assert.Equal((200, "text/event-stream"), (stream.Status, stream.ContentType));
        var early = await stream.Next(3);
        await Append(chain, 4, 6);
        var all = early.Concat(await stream.Next(3)).ToList();
        Assert.Equal(await Feed(chain), all.Select(Id));
        Assert.True(JsonNode.DeepEquals((await chain.HeadOffice.Get("/feed")).Json[0], JsonNode.Parse(all[0])));
    }

    [Fact]
    public async Task After_a_cut_off_the_stream_goes_on_after_the_last_event_that_came()
    {
        var chain = service.NewChain();
        await Append(chain, 1, 4);
        string last;
        await using (var first = await chain.Stream("/feed/stream"))
        {
            await first.Next(2);
            last = first.LastEventId;
        }
        await Append(chain, 5, 5);
        await using var second = await chain.Stream("/feed/stream", last);
        Assert.Equal((await Feed(chain)).Skip(2), (await second.Next(3)).Select(Id));
        // The id is a cursor of the feed.
        Assert.Equal(3, (await chain.HeadOffice.Get($"/feed?after={last}")).Json.AsArray().Count);
    }

    [Fact]
    public async Task A_stream_from_now_on_has_only_later_events()
    {
        var chain = service.NewChain();
        await Append(chain, 1, 2);
        await using var stream = await chain.Stream("/feed/stream?after=now");
        await Append(chain, 3, 3);
        Assert.Equal((await Feed(chain)).Skip(2), (await stream.Next(1)).Select(Id));
    }

    [Fact]
    public async Task The_stream_ends_with_the_token()
    {
        var chain = service.NewChain();
        var started = Stopwatch.GetTimestamp();
        await using var stream = await chain.Stream("/feed/stream", lifetime: TimeSpan.FromSeconds(2));
        Assert.Null(await stream.Next());
        Assert.InRange(Stopwatch.GetElapsedTime(started).TotalSeconds, 0.5, 10);
    }

    [Fact]
    public async Task Only_head_office_may_watch_and_a_cursor_must_be_one()
    {
        var chain = service.NewChain();
        Assert.Equal(403, (await chain.LeadOf("harbour-street").Get("/feed/stream")).Status);
        Assert.Equal(400, (await chain.HeadOffice.Get("/feed/stream?after=nonsense")).Status);
        Assert.Equal(400, (await chain.HeadOffice.Get("/feed/stream", ("Last-Event-ID", "nonsense"))).Status);
    }

    [Fact]
    public async Task Two_hundred_watchers_of_a_chain_get_every_event_and_the_chain_is_read_once()
    {
        var chain = service.NewChain();
        using var watch = new FeedWatch(Store, Database, TimeProvider.System, NullLogger<FeedWatch>.Instance);
        await watch.StartAsync(CancellationToken.None);
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        var connected = 0;
        await Append(chain, 1, 1);
        var watchers = Enumerable.Range(0, 200)
            .Select(_ => Read(watch.Watch(chain.Tenant, 0, limit.Token), 51, () => Interlocked.Increment(ref connected))).ToList();
        await ServiceProcess.Until(() => Task.FromResult(Volatile.Read(ref connected) == 200));
        for (var first = 2; first <= 51; first += 10) await Append(chain, first, first + 9);
        var feed = await Feed(chain);
        var frames = await Task.WhenAll(watchers);
        Assert.All(frames, seen => Assert.Equal(feed, seen.Select(IdOf)));
        // What came after all had caught up was read and encoded once.
        Assert.Single(frames.Select(seen => seen[^1]).Distinct(ReferenceEqualityComparer.Instance));
        await watch.StopAsync(CancellationToken.None);
    }

    [Fact]
    public async Task A_watcher_that_falls_behind_is_cut_off_and_others_are_not()
    {
        var chain = service.NewChain();
        using var watch = new FeedWatch(Store, Database, TimeProvider.System, NullLogger<FeedWatch>.Instance, capacity: 5);
        await watch.StartAsync(CancellationToken.None);
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        var quick = Read(watch.Watch(chain.Tenant, 0, limit.Token), 21);
        await using var slow = watch.Watch(chain.Tenant, 0, limit.Token).GetAsyncEnumerator();
        await Append(chain, 1, 1);
        Assert.True(await slow.MoveNextAsync()); // connected; from here on it does not read
        for (var n = 2; n <= 21; n += 4)
        {
            await Append(chain, n, n + 3);
            await Task.Delay(300); // longer than the interval of the watch, so that the quick one reads
        }
        Assert.Equal(21, (await quick).Count);
        var rest = new List<StreamEvent>();
        while (await slow.MoveNextAsync()) rest.Add(slow.Current.Event);
        Assert.InRange(rest.Count, 1, 5);
        Assert.Equal((await Feed(chain)).Skip(1).Take(rest.Count), rest.Select(IdOf)); // no gap before the cut
        await watch.StopAsync(CancellationToken.None);
    }

    [Fact]
    public async Task An_open_stream_does_not_hold_up_the_stop_of_the_service()
    {
        await using var process = new ServiceProcess();
        await process.Start();
        using var client = process.HttpClientAs("ada", Role.HeadOffice);
        await using var stream = await EventStreamReader.Open(client, "/feed/stream", null);
        Assert.Equal(200, stream.Status);
        var (duration, code) = await process.Stop();
        Assert.Equal(0, code);
        Assert.True(duration < TimeSpan.FromSeconds(14), $"The stop took {duration.TotalSeconds:0.0} s."); // the host waits for 15
        Assert.Null(await stream.Next());
    }

    private NpgsqlDataSource Database => service.Host.Services.GetRequiredService<NpgsqlDataSource>();

    private IDocumentStore Store => service.Host.Services.GetRequiredService<IDocumentStore>();

    private static async Task<IReadOnlyList<StreamEvent>> Read(
        IAsyncEnumerable<FeedWatch.WatchedEvent> events, int count, Action? connected = null)
    {
        var seen = new List<StreamEvent>();
        await foreach (var watched in events)
        {
            seen.Add(watched.Event);
            if (seen.Count == 1) connected?.Invoke();
            if (seen.Count == count) break;
        }
        return seen;
    }

    private static string Id(string json) => (string)JsonNode.Parse(json)!["id"]!;

    private static string IdOf(StreamEvent e) => Id(Encoding.UTF8.GetString(e.Frame.Span).Split("\ndata: ")[1]);

    private static async Task<IReadOnlyList<string>> Feed(Chain chain) =>
        [.. (await chain.HeadOffice.Get("/feed?limit=500")).Json.AsArray().Select(e => (string)e!["id"]!)];

    /// <summary>Appends the events of these versions to one stream.</summary>
    private async Task Append(Chain chain, int first, int last)
    {
        await using var session = Store.LightweightSession(chain.Tenant);
        object[] events = [.. Enumerable.Range(first, last - first + 1).Select(n => new KitExpected($"kit-{n}", Eta))];
        if (first == 1) session.Events.StartStream("week/w", events);
        else session.Events.Append("week/w", last, events);
        await session.SaveChangesAsync();
    }
}
