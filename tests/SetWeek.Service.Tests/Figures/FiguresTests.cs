using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Testing;

namespace SetWeek.Service.Tests.Figures;

[Collection(ServiceCollection.Name)]
public sealed class FiguresTests(RunningService service)
{
    [Fact]
    public async Task Figures_follow_the_week_and_are_summed()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        await Report(week, "started", 1);
        await Report(week, "finished", 2);
        var read = await Figures(chain, await Version(week));
        var figures = read["weeks"]![0]!["figures"]!;
        Assert.Equal(("begun", 1), ((string)figures["stage"]!, (int)figures["tasksDone"]!));
        // The wall has two tasks, and the panel that replaces the cycle one.
        Assert.Equal((1, 2, 3, 1), ((int)read["total"]!["weeks"]!, (int)read["total"]!["displays"]!,
            (int)read["total"]!["tasks"]!, (int)read["total"]!["tasksDone"]!));
    }

    [Fact]
    public async Task Rebuilt_figures_equal_the_live_ones()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var store in new[] { "mill-lane", "quay-side" })
        {
            await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store(store)));
            await FirstRain.ExpectStatus(201,
                chain.HeadOffice.Post("/weeks", FirstRain.Opening.Replace("harbour-street", store)));
        }
        await week.PlanAndPublish();
        await Report(week, "started", 1);
        var live = await Figures(chain, await Version(week));
        Assert.Equal(3, (int)live["total"]!["weeks"]!);

        await FirstRain.ExpectStatus(202,
            chain.As("eva", Role.Engineer).Send(HttpMethod.Post, "/figures/rebuild", (string?)null));
        var rebuilt = await Figures(chain, await Version(week), weeks: 3);
        // What depends on the time of reading may differ.
        Assert.Equal(Stored(live), Stored(rebuilt));
        Assert.Equal(403, (await chain.HeadOffice.Send(HttpMethod.Post, "/figures/rebuild", (string?)null)).Status);
    }

    [Fact]
    public async Task A_page_has_a_link_to_the_next_and_the_sums_are_over_all()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane")));
        await FirstRain.ExpectStatus(201,
            chain.HeadOffice.Post("/weeks", FirstRain.Opening.Replace("harbour-street", "mill-lane")));
        await Figures(chain, 1, weeks: 2);

        var first = await chain.HeadOffice.Get("/figures?limit=1&direction=first-rain");
        Assert.Equal((1, 2), (first.Json["weeks"]!.AsArray().Count, (int)first.Json["total"]!["weeks"]!));
        var second = await chain.HeadOffice.Get(PageLink.NextOf(first.Link!));
        Assert.Equal("first-rain.mill-lane", (string)second.Json["weeks"]![0]!["figures"]!["week"]!);
        Assert.Null(second.Link);
        Assert.Equal(0, (int)(await chain.HeadOffice.Get("/figures?store=nowhere")).Json["total"]!["weeks"]!);
        // A lead sees the weeks of their own stores.
        Assert.Equal("first-rain.mill-lane",
            (string)(await chain.LeadOf("mill-lane").Get("/figures")).Json["weeks"]!.AsArray().Single()!["figures"]!["week"]!);
        Assert.Equal(400, (await chain.HeadOffice.Get("/figures?limit=0")).Status);
    }

    /// <summary>Two processes share a database. The first is killed while reports arrive at the second.</summary>
    [Fact]
    public async Task After_a_node_is_killed_the_other_one_follows()
    {
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var first = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await using var second = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await first.Start(); // so that it holds the followers' locks
        await second.Start();
        var head = second.As("ada", Role.HeadOffice);
        await FirstRain.ExpectStatus(201, head.Post("/directions", FirstRain.Direction));
        await FirstRain.ExpectStatus(201, head.Post("/stores", Samples.Store()));
        await FirstRain.ExpectStatus(201, head.Post("/weeks", FirstRain.Opening));
        await ServiceProcess.Until(async () => Versions((await head.Get("/figures")).Json) is [1]);

        await first.Kill();
        foreach (var hour in Enumerable.Range(10, 8))
            await FirstRain.ExpectStatus(204, head.Post($"{FirstRain.Address}/kits/forms/expected",
                $$"""{"eta": "2027-03-08T{{hour}}:00"}"""));
        await ServiceProcess.Until(async () => Versions((await head.Get("/figures")).Json) is [9]);
        // The figures are those of the week, which a follower reads before it takes its place in the feed.
        await ServiceProcess.Until(async () => (await second.As("eva", Role.Engineer).Get("/followers")).Json["followers"]!
            .AsArray().All(follower => ((bool)follower!["running"]!, (long)follower["behind"]!) is (true, 0)));
    }

    private static long[] Versions(JsonNode figures) =>
        [.. figures["weeks"]!.AsArray().Select(week => (long)week!["version"]!)];

    private static string Stored(JsonNode figures) => string.Join('\n', figures["weeks"]!.AsArray()
        .Select(week => $"{week!["version"]} {week["figures"]!.ToJsonString()}"));

    /// <summary>Waits until the figures have so many weeks, and the first of them this version.</summary>
    private static async Task<JsonNode> Figures(Chain chain, long version, int weeks = 1)
    {
        JsonNode? read = null;
        await ServiceProcess.Until(async () =>
        {
            read = (await chain.HeadOffice.Get("/figures")).Json;
            return Versions(read) is var versions && versions.Length >= weeks && versions[0] == version;
        });
        return read!;
    }

    private static async Task<long> Version(FirstRain week) => (long)(await week.Week())["version"]!;

    private static Task Report(FirstRain week, string what, int n) => FirstRain.ExpectStatus(204,
        week.Lead.Post($"{FirstRain.Address}/work/{what}",
            $$"""{"id": "phone-1.{{n}}", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:{{n:00}}:00Z"}"""));
}
