using System.Globalization;
using System.Text.Json.Nodes;
using JasperFx;
using JasperFx.Events;
using Marten;
using Marten.Services;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Feed;
using SetWeek.Service.Storage;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Testing;

namespace SetWeek.Service.Tests.Feed;

[Collection(ServiceCollection.Name)]
public sealed class FeedTests(RunningService service)
{
    private static readonly OffsetDateTime At = new LocalDateTime(2027, 3, 8, 22, 0).WithOffset(Offset.Zero);

    /// <summary>A local time means something only with its zone, whether or not this node knows the week.</summary>
    [Fact]
    public async Task Events_of_a_week_carry_the_time_zone_of_their_local_times()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await FirstRain.ExpectStatus(204,
            week.Lead.Post($"{FirstRain.Address}/kits/forms/delayed", """{"eta": "2027-03-09T12:00"}"""));
        var events = (await Read(chain, "/feed")).Events;
        Assert.Equal(4, events.Count);
        Assert.All(events, e => Assert.Equal(
            Subject(e) == $"week/{FirstRain.Id}" ? "Europe/London" : null, (string?)e["timezone"]));

        var options = new StoreOptions(); // without the states that the node keeps
        MartenConfiguration.Configure(options, service.Host.Services.GetRequiredService<NpgsqlDataSource>());
        using var other = new DocumentStore(options);
        await using var session = other.QuerySession(chain.Tenant);
        Assert.Equal(new Dictionary<string, string> { [$"week/{FirstRain.Id}"] = "Europe/London" },
            await WeekZones.Of(session, ["store/harbour-street", $"week/{FirstRain.Id}", "week/none"], default));
    }

    [Fact]
    public async Task An_open_transaction_hides_no_event_and_reorders_none()
    {
        var chain = service.NewChain();
        await using var held = await Open(chain, "week/held", "kit-1"); // has the lowest sequence number and stays open

        await Append(chain, "week/free", 1, new KitExpected("kit-2", At.LocalDateTime));
        var before = await Read(chain, "/feed");
        Assert.Equal(["week/free"], before.Events.Select(Subject));

        await held.Commit();
        await Append(chain, "week/held", 2, new KitDelayed("kit-1", null));

        var after = await Read(chain, before.Next);
        Assert.Equal(["week/held", "week/held"], after.Events.Select(Subject));
        Assert.Equal(["0000000001", "0000000002"], after.Events.Select(e => (string)e["sequence"]!));
        Assert.Equal(before.Events.Concat(after.Events).Select(Id), (await Read(chain, "/feed")).Events.Select(Id));
    }

    [Fact]
    public async Task Concurrent_writers_and_readers_agree_on_one_order()
    {
        const int weeks = 6, each = 25;
        var chain = service.NewChain();
        await using var held = await Open(chain, "week/held", "kit");

        using var finished = new CancellationTokenSource();
        var readers = Enumerable.Range(0, 3).Select(_ => Follow(chain, finished.Token)).ToList();
        await Task.WhenAll(Enumerable.Range(0, weeks).Select(async week =>
        {
            for (var version = 1; version <= each; version++)
            {
                await using var open = await Open(chain, $"week/w{week}", $"kit-{version}", version);
                await Task.Delay((week * 7 + version) % 5); // so that the commits are not in the order of their sequence numbers
                await open.Commit();
            }
        }));
        await held.Commit();
        await finished.CancelAsync();

        var whole = (await Read(chain, "/feed?limit=500")).Events.Select(Id).ToList();
        Assert.Equal(weeks * each + 1, whole.Distinct().Count());
        foreach (var reader in readers)
        {
            var seen = await reader;
            Assert.Equal(whole, seen.Select(Id));
            foreach (var week in seen.GroupBy(Subject))
                Assert.Equal(Enumerable.Range(1, week.Count()), week.Select(Sequence));
        }
    }

    [Fact]
    public async Task A_transaction_rolled_back_leaves_no_gap_to_wait_for()
    {
        var chain = service.NewChain();
        await (await Open(chain, "week/rolled-back", "kit")).DisposeAsync();
        await Append(chain, "week/kept", 1, new KitExpected("kit", At.LocalDateTime));
        Assert.Equal(["week/kept"], (await Read(chain, "/feed")).Events.Select(Subject));
    }

    [Fact]
    public async Task The_feed_is_readable_after_two_concurrent_appends()
    {
        var chain = service.NewChain();
        await Append(chain, "week/w", 1, new KitExpected("kit-1", At.LocalDateTime));
        var oneFailed = await AppendTwice(Store, chain);
        await Append(chain, "week/w", 3, new KitExpected("kit-3", At.LocalDateTime));
        Assert.True(oneFailed, "one of two appends at one version must lose");
        Assert.Equal(3, (await Read(chain, "/feed")).Events.Count);
        Assert.Equal(0, await TombstoneCount(chain));
    }

    [Fact]
    public async Task The_feed_skips_existing_tombstones()
    {
        var chain = service.NewChain();
        await Append(chain, "week/w", 1, new KitExpected("kit-1", At.LocalDateTime));
        using var rich = DocumentStore.For(options =>
        {
            MartenConfiguration.Configure(options, service.Host.Services.GetRequiredService<NpgsqlDataSource>());
            options.Events.AppendMode = EventAppendMode.Rich; // the append mode of earlier versions
            options.AutoCreateSchemaObjects = AutoCreate.None;
        });
        Assert.True(await AppendTwice(rich, chain));
        await Append(chain, "week/w", 3, new KitExpected("kit-3", At.LocalDateTime));
        // The event store writes the tombstone in the background.
        await ServiceProcess.Until(async () => await TombstoneCount(chain) > 0);
        Assert.Equal(3, await FeedRows(chain));
        Assert.Equal(["0000000001", "0000000002", "0000000003"],
            (await Read(chain, "/feed")).Events.Select(e => (string)e["sequence"]!));
    }

    [Fact]
    public async Task Events_private_to_the_store_are_skipped_and_pages_are_still_full()
    {
        var chain = service.NewChain();
        for (var task = 1; task <= 5; task++)
            await Append(chain, $"week/w{task}", 2,
                new PersonAbsent("p1", "n1"), new WorkFinished($"f{task}", "t", 1, "n1", At));
        var first = await Read(chain, "/feed?limit=3");
        var second = await Read(chain, first.Next);
        Assert.Equal((3, 2), (first.Events.Count, second.Events.Count));
        Assert.All(first.Events.Concat(second.Events), e => Assert.Equal("setweek.work-finished.v1", (string)e["type"]!));
        Assert.Empty((await Read(chain, second.Next)).Events);
    }

    [Fact]
    public async Task A_small_page_after_many_private_events_takes_three_reads()
    {
        var chain = service.NewChain();
        await Append(chain, "week/w1", 800, [.. Enumerable.Range(1, 800).Select(n => new PersonAbsent($"p{n}", "n1"))]);
        await Append(chain, "week/w2", 2, new WorkStarted("s", "t", 1, "n1", At), new WorkFinished("f", "t", 1, "n1", At));
        await using var session = Store.QuerySession(chain.Tenant);
        using var commands = new CommandCount();

        var page = await FeedPage.ReadAfter(session, 0, limit: 1, CancellationToken.None);

        Assert.Equal(801, Assert.Single(page.Items).Place);
        // The places, the events, and the time zone of a week that this node does not know.
        Assert.Equal((801, 3), (page.End, commands.Count));
        var rest = await FeedPage.ReadAfter(session, page.End, limit: 5, CancellationToken.None);
        Assert.Equal("setweek.work-finished.v1", Assert.Single(rest.Items).Event.Type);
        Assert.Equal(802, rest.End);
    }

    [Fact]
    public async Task A_page_with_private_events_alone_moves_the_cursor_past_them()
    {
        var chain = service.NewChain();
        await Append(chain, "week/w1", 3, [.. Enumerable.Range(1, 3).Select(n => new PersonAbsent($"p{n}", "n1"))]);
        await using var session = Store.QuerySession(chain.Tenant);
        var page = await FeedPage.ReadAfter(session, 0, limit: 5, CancellationToken.None);
        Assert.Empty(page.Items);
        Assert.Equal(3, page.End);
    }

    [Fact]
    public async Task Head_office_sees_that_work_and_clean_downs_start_and_who_reported_it_is_not_told()
    {
        var chain = service.NewChain();
        await Append(chain, "week/w", 3, new WorkStarted("s", "t", 1, "n1", At), new CleanDownStarted("c", "floor", "n1", At),
            new CleanDownFinished("d", "floor", "n1", At));
        var events = (await Read(chain, "/feed")).Events;
        Assert.Equal(["setweek.work-started.v1", "setweek.clean-down-started.v1", "setweek.clean-down-finished.v1"],
            events.Select(e => (string)e["type"]!));
        Assert.Equal("""{"report":"s","task":"t","stint":1,"night":"n1","at":"2027-03-08T22:00:00Z"}""", events[0]["data"]!.ToJsonString());
    }

    [Fact]
    public async Task Events_have_the_form_of_CloudEvents()
    {
        var chain = service.NewChain();
        await chain.HeadOffice.Post("/stores", Samples.Store());
        var answer = await chain.HeadOffice.Get("/feed");
        // CloudEvents 1.0.2 JSON format, section 4: a batch is an array with this media type.
        Assert.Equal("application/cloudevents-batch+json", answer.ContentType);
        var e = Assert.Single(answer.Json.AsArray())!.AsObject();
        // CloudEvents 1.0.2, "Required Attributes": non-empty strings; source a URI-reference, time RFC 3339.
        Assert.Equal("1.0", (string)e["specversion"]!);
        Assert.All(new[] { "id", "source", "type" }, name => Assert.NotEqual("", (string)e[name]!));
        Assert.True(Uri.TryCreate((string)e["source"]!, UriKind.RelativeOrAbsolute, out _));
        Assert.True(DateTimeOffset.TryParse((string)e["time"]!, out _));
        // "Attribute Naming Convention": lower-case letters and digits.
        Assert.All(e.Select(member => member.Key), name => Assert.Matches("^[a-z0-9]+$", name));
        Assert.Equal("harbour-street", (string)e["data"]!["store"]!);
    }

    [Theory]
    [InlineData("/feed?after=nonsense")]
    [InlineData("/feed?after=MS4tMQ")]
    [InlineData("/feed?after=%00")]
    [InlineData("/feed?limit=0")]
    [InlineData("/feed?limit=501")]
    [InlineData("/feed?limit=1e2")]
    public async Task An_invalid_cursor_or_limit_is_400(string path) =>
        Assert.Equal(400, (await service.NewChain().HeadOffice.Get(path)).Status);

    private static string Subject(JsonNode e) => (string)e["subject"]!;

    private static int Sequence(JsonNode e) => int.Parse((string)e["sequence"]!, CultureInfo.InvariantCulture);

    private static string Id(JsonNode e) => (string)e["id"]!;

    private static async Task<(IReadOnlyList<JsonNode> Events, string Next)> Read(Chain chain, string path)
    {
        var answer = await chain.HeadOffice.Get(path);
        Assert.Equal(200, answer.Status);
        return ([.. answer.Json.AsArray().Select(e => e!)], PageLink.NextOf(answer.Link!));
    }

    private static async Task<IReadOnlyList<JsonNode>> Follow(Chain chain, CancellationToken finished)
    {
        var (seen, next) = (new List<JsonNode>(), "/feed?limit=7");
        while (true)
        {
            // Tested before reading, so that all events written by now are read.
            var isLastRead = finished.IsCancellationRequested;
            var page = await Read(chain, next);
            seen.AddRange(page.Events);
            next = page.Next;
            if (isLastRead && page.Events.Count == 0) return seen;
        }
    }

    /// <summary>Appends an event in a transaction that stays open.</summary>
    private async Task<OpenTransaction> Open(Chain chain, string stream, string kit, int version = 1)
    {
        var connection = await service.Host.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        var transaction = await connection.BeginTransactionAsync();
        var options = SessionOptions.ForTransaction(transaction);
        options.TenantId = chain.Tenant;
        await using var session = Store.LightweightSession(options);
        await Append(session, stream, version, new KitExpected(kit, At.LocalDateTime));
        return new OpenTransaction(connection, transaction);
    }

    private async Task Append(Chain chain, string stream, int version, params object[] events)
    {
        await using var session = Store.LightweightSession(chain.Tenant);
        await Append(session, stream, version, events);
    }

    private static Task Append(IDocumentSession session, string stream, int version, params object[] events)
    {
        if (version == events.Length) session.Events.StartStream(stream, events);
        else session.Events.Append(stream, version, events);
        return session.SaveChangesAsync();
    }

    /// <summary>Two sessions append at the same version of week/w. True if the second fails.</summary>
    private static async Task<bool> AppendTwice(IDocumentStore store, Chain chain)
    {
        await using var first = store.LightweightSession(chain.Tenant);
        await using var second = store.LightweightSession(chain.Tenant);
        first.Events.Append("week/w", 2, new KitDelayed("kit-1", null));
        second.Events.Append("week/w", 2, new KitDelayed("kit-2", null));
        await first.SaveChangesAsync();
        return await Record.ExceptionAsync(() => second.SaveChangesAsync()) is ConcurrencyException;
    }

    private Task<long> TombstoneCount(Chain chain) =>
        CountOf(chain, "select count(*) from setweek.mt_events where tenant_id = $1 and type = 'tombstone'");

    private Task<long> FeedRows(Chain chain) => CountOf(chain, "select count(*) from setweek.feed where tenant_id = $1");

    private async Task<long> CountOf(Chain chain, string sql)
    {
        await using var count = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        count.Parameters.AddWithValue(chain.Tenant);
        return (long)(await count.ExecuteScalarAsync())!;
    }

    private IDocumentStore Store => service.Host.Services.GetRequiredService<IDocumentStore>();
}
