using System.Diagnostics;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Storage;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Storage;

[Collection(ServiceCollection.Name)]
public sealed class StateReadTests(RunningService service)
{
    private const string Delay = """{"eta": "2027-03-08T13:00"}""";

    /// <summary>The first event is changed behind the node's back: only a read of the whole stream would see it.</summary>
    [Fact]
    public async Task A_read_fetches_only_the_events_after_the_known_version()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        Assert.Equal("2027-03-12T09:00", (string?)(await week.Week())["launch"]);
        await using (var change = Database.CreateCommand("""
            update setweek.mt_events set data = jsonb_set(data, '{week,launch}', '"2027-03-11T09:00"')
            where tenant_id = $1 and stream_id = 'week/first-rain.harbour-street' and version = 1
            """))
        {
            change.Parameters.AddWithValue(chain.Tenant);
            Assert.Equal(1, await change.ExecuteNonQueryAsync());
        }
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{FirstRain.Address}/kits/forms/delayed", Delay));
        var read = await week.Week();
        Assert.Equal(("2027-03-12T09:00", "2027-03-08T13:00"),
            ((string?)read["launch"], (string?)read["kits"]![0]!["eta"]));

        using var other = Node();
        await using var session = other.QuerySession(chain.Tenant);
        var stream = await Streams.Week(session, FirstRain.Id, CancellationToken.None);
        Assert.Equal((2, 11), (stream.Version, stream.State!.Week.Launch.Day));
    }

    [Fact]
    public async Task A_node_sees_what_another_has_appended_at_its_next_read()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        using var other = Node();
        for (var minute = 1; minute <= 3; minute++)
        {
            await using var session = other.QuerySession(chain.Tenant);
            Assert.Equal(minute, (await Streams.Week(session, FirstRain.Id, CancellationToken.None)).Version);
            await FirstRain.ExpectStatus(204,
                week.Lead.Post($"{FirstRain.Address}/kits/forms/delayed", Delay.Replace(":00", $":0{minute}")));
        }
    }

    [Fact]
    public async Task Who_polls_a_plan_makes_one_round_trip_and_no_hash()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = (string)(await week.Plan())["id"]!;
        await using var session = service.Host.Services.GetRequiredService<IDocumentStore>().QuerySession(chain.Tenant);
        var first = await Streams.WeekAndPlan(session, FirstRain.Id, plan, CancellationToken.None);
        var hash = await session.InputHash(first.Week, CancellationToken.None);
        Assert.Equal(first.Plan!.InputHash, hash);

        Assert.Equal(1, await CommandsOf(async () =>
        {
            var (polled, candidate) = await Streams.WeekAndPlan(session, FirstRain.Id, plan, CancellationToken.None);
            Assert.Same(candidate, await session.AsOfNow(candidate!, polled, CancellationToken.None));
            // The same object, so it was not made again.
            Assert.Same(hash, await session.InputHash(polled, CancellationToken.None));
        }));
    }

    /// <summary>A change of the crew leaves the folded state as it is. The hash must not.</summary>
    [Fact]
    public async Task The_kept_hash_ends_with_a_change_of_the_crew()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var address = $"{FirstRain.Address}/plans/{plan["id"]}";
        Assert.Equal("ready", (string?)(await week.Lead.Get(address)).Json["state"]);
        await FirstRain.ExpectStatus(204, week.Lead.Put($"{FirstRain.Address}/crew/p1", """{"ratePerHour": 1600}""",
            ("If-Match", await week.ETag())));
        Assert.Equal("overtaken", (string?)(await week.Lead.Get(address)).Json["state"]);
    }

    /// <summary>The figure by which docs/operations.md tells how many states fit into memory.</summary>
    [Fact]
    public async Task A_kept_week_of_real_size_takes_some_hundred_kilobytes()
    {
        const int weeks = 40;
        var chain = service.NewChain();
        await HarbourStreet.Open(chain.HeadOffice);
        using var store = DocumentStore.For(options => MartenConfiguration.Configure(options, Database)); // keeps no states
        await using var session = store.QuerySession(chain.Tenant);
        var kept = new List<FoldedStream<Domain.Weeks.StoreWeek>> { await Read() };
        var before = GC.GetTotalMemory(forceFullCollection: true);
        while (kept.Count <= weeks) kept.Add(await Read());
        var kilobytes = (GC.GetTotalMemory(forceFullCollection: true) - before) / weeks / 1024;
        Assert.InRange(kilobytes, 50, 1000);
        Assert.Equal(weeks + 1, kept.Count);

        Task<FoldedStream<Domain.Weeks.StoreWeek>> Read() =>
            Streams.Week(session, HarbourStreet.Address.Split('/')[^1], CancellationToken.None);
    }

    private NpgsqlDataSource Database => service.Host.Services.GetRequiredService<NpgsqlDataSource>();

    /// <summary>The document store of another node, which knows no state yet.</summary>
    private DocumentStore Node()
    {
        var options = new NodeStoreOptions(new StateCache(10));
        MartenConfiguration.Configure(options, Database);
        return new DocumentStore(options);
    }

    /// <summary>The number of commands that the database driver sends.</summary>
    private static async Task<int> CommandsOf(Func<Task> work)
    {
        using var root = new Activity("test").SetIdFormat(ActivityIdFormat.W3C).Start();
        var (trace, count) = (root.TraceId, 0);
        using var listener = new ActivityListener
        {
            ShouldListenTo = source => source.Name == "Npgsql",
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllData,
            ActivityStarted = activity =>
            {
                if (activity.TraceId == trace && activity.Kind == ActivityKind.Client) Interlocked.Increment(ref count);
            },
        };
        ActivitySource.AddActivityListener(listener);
        await work();
        return count;
    }
}
