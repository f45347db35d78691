using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Stores;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Feed;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>Head office reads its morning and decides, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class StoresPageTests(RunningService service)
{
    [Fact]
    public async Task What_is_unsafe_at_risk_and_asked_stands_before_the_rest()
    {
        var chain = service.NewChain();
        var week = await Opened(chain);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T22:30");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/stopped",
            """
            {"id": "phone-1.1", "night": "monday", "zone": "window", "at": "2027-03-08T20:10:00Z", "note": "Asha saw a loose wire."}
            """));
        await ExpectStatus(204, week.Lead.Post($"{Address}/questions",
            """{"id": "q1", "for": "headOffice", "text": "Which one?", "at": "2027-03-08T20:11:00Z"}"""));
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        await ServiceProcess.Until(async () => Markup.TextOf(await Page(head, "/stores")) is var text
            && text.Contains("1 question waits.", StringComparison.Ordinal)
            && text.Contains("(Europe/London).", StringComparison.Ordinal) && !text.Contains("not counted yet", StringComparison.Ordinal));
        var page = await Page(head, "/stores");
        var words = Markup.TextOf(page);
        Assert.Contains("First Rain is set in 1 store. Work is stopped in 1 store. 1 launch is at risk. No store is silent. "
            + "1 question waits.", words, StringComparison.Ordinal);
        Assert.Contains("Work is stopped in Show window since Monday 8 March, 20:10: somebody found it not safe.", words,
            StringComparison.Ordinal);
        // The kit was expected at noon.
        Assert.Contains("“Forms” was expected Mon 8 Mar, 12:00 and has not arrived.", words, StringComparison.Ordinal);
        Assert.Contains("Last heard Monday 8 March, 20:11.", words, StringComparison.Ordinal);
        Assert.Equal(["Not safe", "Launch at risk", "Questions waiting", "The rest of the chain"],
            Markup.Of(page).Descendants("h2").Select(heading => heading.Value));
        Assert.DoesNotContain("Asha", words, StringComparison.Ordinal); // neither the note nor anybody's name
    }

    [Fact]
    public async Task Head_office_has_the_alternate_built_and_an_older_page_is_refused()
    {
        var chain = service.NewChain();
        var week = await Opened(chain);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T13:00");
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        const string button = "Build Cycle panel in Harbour Street";
        await ServiceProcess.Until(async () => (await Page(head, "/stores")).Contains(button, StringComparison.Ordinal));
        var older = await Current();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        var late = await head.PressButton(older, button);
        Assert.Equal(412, late.Status);
        var built = await head.PressButton(await Current(), button);
        Assert.Equal((303, "/stores"), (built.Status, built.Location!));
        await ServiceProcess.Until(async () => !(await Page(head, "/stores")).Contains(button, StringComparison.Ordinal));
        using var region = await SignedIn(chain, "rex", Role.Region, "harbour-street");
        Markup.AssertNoForm(await Page(region, "/stores"));

        // The page once the figures are those of the week as it is now.
        async Task<string> Current()
        {
            var version = await week.ETag();
            await ServiceProcess.Until(async () => Markup.Of(await Page(head, "/stores")).Descendants("input")
                .Any(input => (string?)input.Attribute("value") == version));
            return await Page(head, "/stores");
        }
    }

    [Fact]
    public async Task Head_office_asks_a_store_how_it_stands_and_allows_what_it_asks()
    {
        var chain = service.NewChain();
        var week = await Opened(chain);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T13:00"); // the kit was expected at noon
        await ExpectStatus(204, week.Lead.Post($"{Address}/questions",
            """{"id": "q1", "for": "headOffice", "text": "May we begin at seven?", "at": "2027-03-08T12:50:00Z"}"""));
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        const string ask = "Ask Harbour Street", allow = "Allow it in Harbour Street";
        await ServiceProcess.Until(async () => await Page(head, "/stores") is var text
            && text.Contains(ask, StringComparison.Ordinal) && text.Contains(allow, StringComparison.Ordinal));
        var ledger = await Page(head, "/stores");
        var asking = (string)Markup.Of(ledger).Descendants("a").First(link => link.Value == ask).Attribute("href")!;
        var sent = await head.PressButton(await Page(head, asking), "Send it to Harbour Street");
        Assert.Equal(303, sent.Status);
        var memo = Assert.Single((await ExpectStatus(200, chain.HeadOffice.Get("/memos"))).Json["memos"]!.AsArray())!;
        Assert.Equal("""["harbour-street"]""", memo["stores"]!.ToJsonString());
        Assert.Equal("How does First Rain stand in your store, and what do you need from us? "
            + "Please write it under Questions, to head office. "
            + "What we read here: “Forms” was expected Mon 8 Mar, 12:00 and has not arrived.", (string?)memo["text"]);

        var allowed = await head.PressButton(ledger, allow);
        Assert.Equal((303, "/stores"), (allowed.Status, allowed.Location!));
        var answer = (await ExpectStatus(200, week.Lead.Get($"{Address}/questions"))).Json["questions"]![0]!["answer"]!;
        Assert.Equal(("Yes, head office allows it. The cautions and local codes stand.", "ada"),
            ((string?)answer["text"], (string?)answer["by"]));
        week.Clock.MoveTo("2027-03-12T10:00"); // launched at nine: a memo would be for nobody
        Assert.DoesNotContain(ask, await Page(head, "/stores"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Each_role_sees_its_stores_and_a_crew_sees_plain_rows()
    {
        var chain = service.NewChain();
        var week = await Opened(chain);
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane <b>")
            .Replace("\"zones\"", "\"region\": {\"id\": \"south\", \"name\": \"The South\"}, \"zones\"")));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        week.Clock.MoveTo("2027-03-08T13:00");
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        await ServiceProcess.Until(async () => Markup.TextOf(await Page(head, "/stores")) is var text
            && text.Contains("in 2 stores", StringComparison.Ordinal));
        Assert.Contains("Mill Lane <b>", Markup.TextOf(await Page(head, "/stores")), StringComparison.Ordinal);
        var south = Markup.TextOf(await Page(head, "/stores?direction=&region=south&show="));
        Assert.Contains("Mill Lane", south, StringComparison.Ordinal);
        Assert.DoesNotContain("Harbour Street", south, StringComparison.Ordinal);

        using var region = await SignedIn(chain, "rex", Role.Region, "mill-lane");
        Assert.DoesNotContain("Harbour Street", Markup.TextOf(await Page(region, "/stores")), StringComparison.Ordinal);
        using var crew = await SignedIn(chain, "p3", Role.Crew, "harbour-street");
        var own = await Page(crew, "/stores");
        Assert.Contains("Harbour Street", own, StringComparison.Ordinal);
        Assert.Equal(["The stores"], Markup.Of(own).Descendants("h2").Select(heading => heading.Value));
        using var foreign = await SignedIn(service.NewChain(), "ada", Role.HeadOffice);
        Assert.Contains("No week is open.", Markup.TextOf(await Page(foreign, "/stores")), StringComparison.Ordinal);
        foreach (var wrong in new[] { "show=all", "skip=-1", "skip=x", "region=%00", "direction=A" })
            Assert.Equal(400, (await head.Api.Get($"/stores?{wrong}", ("Accept", "text/html"))).Status);
    }

    /// <summary>
    /// Two thousand weeks as the follower keeps them: every fiftieth stopped, so that 40 are in the first section. A page is read
    /// with a fixed number of queries and stays small, and its links lead to every store once.
    /// </summary>
    [Fact]
    public async Task Two_thousand_stores_are_read_with_few_queries_and_paged()
    {
        var chain = service.NewChain();
        var week = await Opened(chain);
        await week.PlanAndPublish();
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        week.Clock.MoveTo("2027-03-08T10:00");
        await ServiceProcess.Until(async () => (await chain.HeadOffice.Get("/figures")).Json["weeks"]!.AsArray() is [{ } only]
            && (string?)only["figures"]!["stage"] == "published");
        await Multiply(chain, (await chain.HeadOffice.Get("/figures")).Json["weeks"]![0]!["figures"]!.AsObject(), 1999);

        var page = await Page(head, "/stores");
        Assert.Contains("First Rain is set in 2,000 stores. Work is stopped in 40 stores.", Markup.TextOf(page),
            StringComparison.Ordinal);
        Assert.InRange(page.Length, 1, 150_000);
        await using var session = service.Host.Services.GetRequiredService<IDocumentStore>().QuerySession(chain.Tenant);
        var request = RequestOf(chain, "text/html");
        using (var commands = new CommandCount())
        {
            Assert.Equal(200, (await ListStores.Handle(request, session)).Status);
            Assert.InRange(commands.Count, 1, 9);
        }

        var seen = new List<string>();
        var address = "/stores?show=rest";
        for (var pages = 0; address is not null; pages++)
        {
            Assert.InRange(pages, 0, 60);
            var part = Markup.Of(await Page(head, address));
            seen.AddRange(part.Descendants("tbody").Single().Elements("tr")
                .Select(row => (string)row.Descendants("a").Single().Attribute("href")!));
            address = (string?)part.Descendants("a").SingleOrDefault(link => (string?)link.Attribute("rel") == "next")
                ?.Attribute("href");
        }
        Assert.Equal((1960, 1960), (seen.Count, seen.Distinct().Count()));
        var stopped = Markup.Of(await Page(head, "/stores?show=unsafe&skip=25"));
        Assert.Equal(15, stopped.Descendants("h3").Count());
    }

    private static async Task<FirstRain> Opened(Chain chain)
    {
        var week = new FirstRain(chain);
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores",
            Samples.Store().Replace("\"zones\"", "\"features\": [\"cycle-stand\"], \"zones\"")));
        await ExpectStatus(201, week.Lead.Post("/weeks", Opening));
        return week;
    }

    /// <summary>Rows of further weeks, with the figures of a known one.</summary>
    private async Task Multiply(Chain chain, JsonObject figures, int count)
    {
        await using var connection = await service.Host.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        await using var rows = await connection.BeginBinaryImportAsync(
            "copy setweek.figures (tenant_id, week, version, figures) from stdin (format binary)");
        foreach (var number in Enumerable.Range(1, count))
        {
            var of = figures.DeepClone().AsObject();
            (of["week"], of["store"]) = ($"w{number:0000}", $"s{number:0000}");
            if (number % 50 == 0 || number == 1)
                of["stops"] = JsonNode.Parse("""[{"stop": "r1", "zone": null, "since": "2027-03-08T09:00:00"}]""");
            await rows.StartRowAsync();
            await rows.WriteAsync(chain.Tenant);
            await rows.WriteAsync(string.Create(CultureInfo.InvariantCulture, $"w{number:0000}"));
            await rows.WriteAsync(1L);
            await rows.WriteAsync(of.ToJsonString(JsonSerializerOptions.Default), NpgsqlTypes.NpgsqlDbType.Jsonb);
        }
        await rows.CompleteAsync();
    }

    private Request RequestOf(Chain chain, string accept) => new(
        new Caller(chain.Tenant, "ada", Role.HeadOffice, [Caller.AnyStore]), service.Clock.Now, Instant.FromUtc(2027, 3, 8, 11, 0), new Dictionary<string, string>(), new QueryCollection(), [accept])
    {
        Admission = service.Host.Services.GetRequiredService<Admission>(),
        PlanIds = service.Host.Services.GetRequiredService<PlanIds>(),
        Outbound = service.Host.Services.GetRequiredService<OutboundRules>(),
    };

    /// <summary>Its forms carry their own token.</summary>
    private static async Task<Browser> SignedIn(Chain chain, string person, Role role, params string[] stores)
    {
        var browser = await chain.SignedIn(person, role, stores);
        browser.FormToken = null;
        return browser;
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
