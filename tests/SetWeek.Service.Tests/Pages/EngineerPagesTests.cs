using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>An engineer reads the feed and what follows it, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class EngineerPagesTests(RunningService service)
{
    [Fact]
    public async Task The_feed_begins_with_the_newest_event_and_leads_back_to_the_first()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-08T22:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/questions", new JsonObject
        {
            ["id"] = "q1", ["for"] = "headOffice", ["text"] = "<script>alert(1)</script>", ["at"] = "2027-03-08T22:10:00+01:00",
        }.ToJsonString()));
        using var engineer = await chain.SignedIn("eva", Role.Engineer);
        var types = new List<string>();
        var (address, pages) = ("/feed?limit=2", 0);
        while (address is not null && pages++ < 9)
        {
            var page = Markup.Of(await Page(engineer, address));
            types.AddRange(page.Descendants("h3").Select(heading => heading.Value));
            address = (string?)page.Descendants("a").SingleOrDefault(link => link.Value == "Earlier events")?.Attribute("href");
        }
        var known = (await chain.HeadOffice.Get("/feed")).Json.AsArray().Select(e => (string)e!["type"]!);
        Assert.Equal(known.Reverse(), types);
        var newest = Markup.TextOf(await Page(engineer, "/feed?limit=1"));
        // The store's time: the question was asked at 22:10 an hour east of London.
        Assert.Contains("2027-03-08 21:10:00", newest, StringComparison.Ordinal);
        Assert.Contains("Europe/London.", newest, StringComparison.Ordinal);
        Assert.Contains("\"text\": \"<script>alert(1)</script>\"", newest, StringComparison.Ordinal);
    }

    [Fact]
    public async Task From_a_cursor_the_feed_is_read_in_its_order()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var head = await chain.SignedIn("ada", Role.HeadOffice);
        var first = Markup.Of(await Page(head, $"/feed?after={Service.Feed.FeedCursor.Write(0)}&limit=2"));
        Assert.Equal(["setweek.direction-issued.v1", "setweek.store-opened.v1"],
            first.Descendants("h3").Select(heading => heading.Value));
        var next = (string)first.Descendants("a").Single(link => link.Value == "Later events").Attribute("href")!;
        Assert.Equal(["setweek.week-opened.v1"], Markup.Of(await Page(head, next)).Descendants("h3").Select(heading => heading.Value));
        Assert.Equal(400, (await head.Api.Get("/feed?before=x", ("Accept", "text/html"))).Status);
        // Programs that say nothing of what they accept get the batch as before.
        Assert.Equal("application/cloudevents-batch+json", (await chain.HeadOffice.Get("/feed")).ContentType);
        Assert.Contains("Nothing has happened in this chain yet.",
            Markup.TextOf(await Page(await service.NewChain().SignedIn("eva", Role.Engineer), "/feed")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Followers_and_webhooks_are_read_as_pages()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanIsChecked();
        using var engineer = await chain.SignedIn("eva", Role.Engineer);
        var followers = Markup.Of(await Page(engineer, "/followers"));
        Assert.Contains("figures", followers.Descendants("th").Select(cell => cell.Value));
        Assert.Contains("This chain has no webhook.", Markup.TextOf(await Page(engineer, "/webhooks")), StringComparison.Ordinal);
        var added = await ExpectStatus(201, chain.HeadOffice.Post("/webhooks",
            """{"id": "hook-1", "url": "https://example.org/in?a=<b>", "types": ["setweek.week-opened.v1"]}"""));
        var webhooks = Markup.TextOf(await Page(engineer, "/webhooks"));
        Assert.Contains("It gets setweek.week-opened.v1.", webhooks, StringComparison.Ordinal);
        Assert.DoesNotContain((string)added.Json["secret"]!, webhooks, StringComparison.Ordinal);
        Assert.Contains("has none.", Markup.TextOf(await Page(engineer, "/webhooks/hook-1/dead-letters")), StringComparison.Ordinal);
        Assert.Equal(403, (await (await chain.SignedIn("lena", Role.Lead)).Api.Get("/feed", ("Accept", "text/html"))).Status);
    }

    [Fact]
    public async Task Head_office_adds_a_webhook_renews_its_secret_and_removes_it()
    {
        var chain = service.NewChain();
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        var refused = await head.PressButton(await Page(head, "/webhooks"), "Add it",
            ("id", "ops-board"), ("url", "http://board.quillmere.example/"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("Nothing has been kept yet.", refused.Text, StringComparison.Ordinal);
        var first = SecretIn(201, await head.PressButton(refused.Text, "Add it", ("url", "https://board.quillmere.example/setweek"),
            ("types:lines", "setweek.week-opened.v1\nsetweek.work-blocked.v1")));

        var list = await Page(head, "/webhooks");
        Assert.Contains("It gets setweek.week-opened.v1 and setweek.work-blocked.v1.", Markup.TextOf(list), StringComparison.Ordinal);
        Assert.DoesNotContain("whsec_", list, StringComparison.Ordinal);
        const string renew = "Make a new secret for ops-board";
        var second = SecretIn(200, await head.PressButton(list, renew));
        Assert.NotEqual(first, second);
        // A page that is loaded again sends its form again. That neither replaces the secret nor shows it again.
        var again = await head.PressButton(list, renew);
        Assert.Equal(200, again.Status);
        Assert.DoesNotContain("whsec_", again.Text, StringComparison.Ordinal);
        Assert.Contains("the secret was shown then", Markup.TextOf(again.Text),
            StringComparison.Ordinal);
        Assert.Equal([first, second], await Secrets());
        Assert.DoesNotContain("whsec_", await Remembered(), StringComparison.Ordinal);

        using var engineer = await SignedIn(chain, "eva", Role.Engineer);
        Markup.AssertNoForm(await Page(engineer, "/webhooks"));
        var removed = await head.PressButton(list, "Remove ops-board and what waits for it");
        Assert.Equal((303, "/webhooks"), (removed.Status, removed.Location!));
        Assert.Contains("This chain has no webhook.", Markup.TextOf(await Page(head, "/webhooks")), StringComparison.Ordinal);

        Task<IReadOnlyList<string>> Secrets() => Column(chain,
            "select unnest(array[previous_secret, secret]) from setweek.webhook where tenant_id = @tenant");
        async Task<string> Remembered() => string.Concat(await Column(chain,
            "select convert_from(content, 'UTF8') from setweek.remembered where tenant_id = @tenant and content is not null"));
    }

    [Fact]
    public async Task A_form_that_is_changed_and_sent_again_says_that_it_was_sent_before()
    {
        var chain = service.NewChain();
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        var page = await Page(head, "/webhooks");
        var url = ("url", "https://board.quillmere.example/setweek");
        Assert.Equal(201, (await head.PressButton(page, "Add it", ("id", "ops-board"), url)).Status);
        var changed = await head.PressButton(page, "Add it", ("id", "ops-board-2"), url);
        Assert.Equal(422, changed.Status);
        Assert.Contains("This form was sent before with other content. Look whether that is enough; if not, open the page anew and put it in.",
            Markup.TextOf(changed.Text), StringComparison.Ordinal);
        Assert.Equal(201, (await head.PressButton(changed.Text, "Add it")).Status);
    }

    [Fact]
    public async Task An_engineer_has_the_figures_computed_again()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        await ServiceProcess.Until(async () => await Displays() == 2);
        await using (var tamper = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(
            "update setweek.figures set figures = jsonb_set(figures, '{displays}', '99') where tenant_id = @tenant"))
        {
            tamper.Parameters.AddWithValue("tenant", chain.Tenant);
            Assert.Equal(1, await tamper.ExecuteNonQueryAsync());
        }
        Assert.Equal(99, await Displays());
        using var engineer = await SignedIn(chain, "eva", Role.Engineer);
        var asked = await engineer.PressButton(await Page(engineer, "/followers"), "Compute the figures again");
        Assert.Equal((303, "/followers"), (asked.Status, asked.Location!));
        await ServiceProcess.Until(async () => await Displays() == 2);

        async Task<int?> Displays() => (await chain.HeadOffice.Get("/figures")).Json["weeks"]!.AsArray() is [{ } only]
            ? (int?)only["figures"]!["displays"] : null;
    }

    private async Task<IReadOnlyList<string>> Column(Chain chain, string sql)
    {
        await using var read = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        read.Parameters.AddWithValue("tenant", chain.Tenant);
        await using var rows = await read.ExecuteReaderAsync();
        var values = new List<string>();
        while (await rows.ReadAsync()) values.Add(rows.GetString(0));
        return values;
    }

    private static string SecretIn(int status, ApiResponse answer)
    {
        Assert.Equal((status, "text/html"), (answer.Status, answer.ContentType));
        var secret = (string)Markup.Of(answer.Text).Descendants("input")
            .Single(input => (string?)input.Attribute("id") == "secret").Attribute("value")!;
        Assert.StartsWith("whsec_", secret, StringComparison.Ordinal);
        // The page is stored for a repetition, perhaps in another session.
        Assert.DoesNotContain(FormToken.Field, answer.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("data-session", answer.Text, StringComparison.Ordinal);
        return secret;
    }

    /// <summary>Its forms carry their own token.</summary>
    private static async Task<Browser> SignedIn(Chain chain, string person, Role role)
    {
        var browser = await chain.SignedIn(person, role);
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
