using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Testing;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Lists;

[Collection(ServiceCollection.Name)]
public sealed class ListTests(RunningService service)
{
    [Fact]
    public async Task Stores_and_directions_are_listed_page_by_page()
    {
        var chain = service.NewChain();
        string[] ids = ["c", "a-2", "a.1", "b", "a"];
        foreach (var id in ids) await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store(id)));
        foreach (var id in ids)
            await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction.Replace("\"first-rain\"", $"\"{id}\"")));
        foreach (var list in (string[])["stores", "directions"])
        {
            var pages = await Pages(chain.HeadOffice, $"/{list}?limit=2");
            Assert.Equal([2, 2, 1], pages.Select(page => page[list]!.AsArray().Count));
            Assert.Equal(["a", "a-2", "a.1", "b", "c"],
                pages.SelectMany(page => page[list]!.AsArray()).Select(entry => (string)entry!["id"]!));
        }
    }

    [Fact]
    public async Task A_lead_lists_only_what_lies_in_their_stores()
    {
        var chain = await TwoStores();
        var lead = chain.LeadOf("mill-lane");
        Assert.Equal(["mill-lane"], Values(await lead.Get("/stores"), "stores", "id"));
        Assert.Equal(["w2", "w4"], Values(await lead.Get("/weeks"), "weeks", "id"));
        Assert.Empty(Values(await lead.Get("/weeks?store=harbour-street"), "weeks", "id"));
        Assert.Equal(["w2", "w4"], Values(await lead.Get("/kits/waiting"), "kits", "week"));
        Assert.Empty(Values(await lead.Get("/kits/waiting?store=harbour-street"), "kits", "week"));
        Assert.Empty(Values(await service.NewChain().HeadOffice.Get("/weeks"), "weeks", "id"));
    }

    [Fact]
    public async Task Weeks_are_filtered_by_store_launch_and_stage()
    {
        var chain = await TwoStores();
        var head = chain.HeadOffice;
        Assert.Equal(["w1", "w2", "w3", "w4"], Values(await head.Get("/weeks"), "weeks", "id"));
        Assert.Equal(["w1", "w3"], Values(await head.Get("/weeks?store=harbour-street"), "weeks", "id"));
        // w3 and w4 launch a day later.
        Assert.Equal(["w3", "w4"], Values(await head.Get("/weeks?launchFrom=2027-03-13"), "weeks", "id"));
        Assert.Equal(["w1", "w2"], Values(await head.Get("/weeks?launchTo=2027-03-12"), "weeks", "id"));
        Assert.Equal(["w4"], Values(await head.Get("/weeks?launchFrom=2027-03-13&launchTo=2027-03-13&store=mill-lane"), "weeks", "id"));
        Assert.Equal(4, Values(await head.Get("/weeks?stage=unplanned"), "weeks", "id").Count);
        Assert.Empty(Values(await head.Get("/weeks?stage=begun"), "weeks", "id"));
        var pages = await Pages(head, "/weeks?store=harbour-street&limit=1");
        Assert.Equal(["w1", "w3"], pages.SelectMany(page => page["weeks"]!.AsArray()).Select(week => (string)week!["id"]!));
    }

    [Fact]
    public async Task Stores_weeks_and_figures_are_filtered_by_region()
    {
        var chain = service.NewChain();
        var head = chain.HeadOffice;
        await ExpectStatus(201, head.Post("/directions", Direction));
        foreach (var (id, region) in ((string, string)[])[("a", "south"), ("b", "north"), ("c", "south"), ("d", "")])
        {
            var store = region == "" ? "" : $$""", "region": {"id": "{{region}}", "name": "The {{region}}"}""";
            await ExpectStatus(201, head.Post("/stores", Samples.Store(id)[..^1] + store + "}"));
            await ExpectStatus(201, head.Post("/weeks", Opening.Replace("harbour-street", id)));
        }
        Assert.Equal("The north", (string?)(await head.Get("/stores/b")).Json["region"]!["name"]);
        Assert.Equal(["a", "c"], Values(await head.Get("/stores?region=south"), "stores", "id"));
        var pages = await Pages(head, "/stores?region=south&limit=1");
        Assert.Equal(["a", "c"], pages.SelectMany(page => page["stores"]!.AsArray()).Select(found => (string)found!["id"]!));
        Assert.Equal(["a", "c"], Values(await head.Get("/weeks?region=south"), "weeks", "store"));
        Assert.Equal(["b"], Values(await chain.LeadOf("b").Get("/weeks?region=north"), "weeks", "store"));
        Assert.Empty(Values(await chain.LeadOf("b").Get("/weeks?region=south"), "weeks", "store"));
        Assert.Empty(Values(await head.Get("/stores?region=%00"), "stores", "id"));
        await ServiceProcess.Until(async () => (int)(await head.Get("/figures?region=south")).Json["total"]!["weeks"]! == 2);
        Assert.Equal(1, (int)(await head.Get("/figures?region=north")).Json["total"]!["weeks"]!);
    }

    [Fact]
    public async Task A_list_shows_at_once_what_has_changed()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        Assert.Equal(["unplanned"], Values(await week.Lead.Get("/weeks"), "weeks", "stage"));
        await week.PlanAndPublish();
        Assert.Equal(["published"], Values(await week.Lead.Get("/weeks"), "weeks", "stage"));
        Assert.Empty(Values(await week.Lead.Get("/blocks"), "blocks", "task"));
        foreach (var task in (string[])["wall.paint", "cycle.panel.fix"])
            await ExpectStatus(204, week.Lead.Post($"{Address}/work/blocked",
                $$"""{"id": "b-{{task}}", "task": "{{task}}", "at": "2027-03-08T20:10:00Z", "reason": "no-access", "remainingMinutes": 40}"""));
        Assert.Equal(["begun"], Values(await week.Lead.Get("/weeks"), "weeks", "stage"));
        var blocks = await Pages(week.Lead, "/blocks?limit=1");
        Assert.Equal(["cycle.panel.fix", "wall.paint"],
            blocks.SelectMany(page => page["blocks"]!.AsArray()).Select(block => (string)block!["task"]!));
        Assert.Equal(("harbour-street", "no-access", 40), ((string?)blocks[0]["blocks"]![0]!["store"],
            (string?)blocks[0]["blocks"]![0]!["reason"], (int)blocks[0]["blocks"]![0]!["remainingMinutes"]!));

        // An arrived kit waits until it is counted.
        Assert.Null((await week.Lead.Get("/kits/waiting")).Json["kits"]![0]!["arrived"]);
        await ExpectStatus(200, week.Lead.Post($"{Address}/kits/forms/arrived", """{"id": "a1", "at": "2027-03-08T11:40:00Z"}"""));
        Assert.Equal(["form"], (await week.Lead.Get("/kits/waiting")).Json["kits"]![0]!["missing"]!["uncounted"]!.AsArray()
            .Select(item => (string)item!));
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived",
            """{"id": "a2", "at": "2027-03-08T12:00:00Z", "lines": [{"item": "form", "received": 4}]}"""));
        Assert.Empty(Values(await week.Lead.Get("/kits/waiting"), "kits", "kit"));
    }

    [Fact]
    public async Task The_plans_of_a_week_are_listed_the_latest_first()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var first = (string)(await week.Plan())["id"]!;
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-08T13:00"}"""));
        var second = await week.Plan();
        await ExpectStatus(204, week.Publish(second, await week.ETag()));
        var pages = await Pages(week.Lead, $"{Address}/plans?limit=1");
        var plans = pages.SelectMany(page => page["plans"]!.AsArray()).Select(plan => plan!).ToList();
        Assert.Equal([(string)second["id"]!, first], plans.Select(plan => (string)plan["id"]!));
        Assert.Equal([("ready", true), ("overtaken", false)],
            plans.Select(plan => ((string)plan["state"]!, (bool)plan["published"]!)));
        foreach (var plan in plans)
            Assert.Equal((string?)plan["state"], (string?)(await week.Lead.Get((string)plan["address"]!)).Json["state"]);
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Get($"{Address}/plans")).Status);
    }

    [Theory]
    [InlineData("/stores?after=nonsense")]
    [InlineData("/directions?after=MS4A")]
    [InlineData("/weeks?limit=0")]
    [InlineData("/weeks?limit=201")]
    [InlineData("/weeks?launchFrom=soon")]
    [InlineData("/weeks?launchTo=2027-02-30")]
    [InlineData("/weeks?stage=finished")]
    [InlineData("/kits/waiting?limit=x")]
    [InlineData("/blocks?after=%00")]
    public async Task An_invalid_cursor_limit_or_filter_is_400(string path) =>
        Assert.Equal((400, "application/problem+json"),
            await service.NewChain().HeadOffice.Get(path) is var answer ? (answer.Status, answer.ContentType) : default);

    /// <summary>Weeks w1 and w3 in Harbour Street, w2 and w4 in Mill Lane; w3 and w4 launch a day later.</summary>
    private async Task<Chain> TwoStores()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        foreach (var store in (string[])["harbour-street", "mill-lane"])
            await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store(store)));
        for (var week = 1; week <= 4; week++)
            await ExpectStatus(201, chain.HeadOffice.Post("/weeks", Opening
                .Replace("first-rain.harbour-street", $"w{week}")
                .Replace("harbour-street", week % 2 == 0 ? "mill-lane" : "harbour-street")
                .Replace("2027-03-12T09:00", week > 2 ? "2027-03-13T09:00" : "2027-03-12T09:00")));
        return chain;
    }

    private static List<string> Values(ApiResponse answer, string list, string field)
    {
        Assert.True(answer.Status == 200, answer.Text);
        return [.. answer.Json[list]!.AsArray().Select(entry => (string)entry![field]!)];
    }

    private static async Task<List<JsonNode>> Pages(ApiClient client, string path)
    {
        var pages = new List<JsonNode>();
        for (string? next = path; next is not null;)
        {
            var answer = await ExpectStatus(200, client.Get(next));
            pages.Add(answer.Json);
            next = answer.Link is { } link ? PageLink.NextOf(link) : null;
        }
        return pages;
    }
}
