using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Testing;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Memos;

/// <summary>Head office writes to the stores, and sees who has read it.</summary>
[Collection(ServiceCollection.Name)]
public sealed class MemoTests(RunningService service)
{
    private const string Text = "The <lower> hook is weak.", Mine = $"{Address}/memos", Theirs = "/weeks/first-rain.mill-lane/memos";

    [Fact]
    public async Task A_safety_memo_stands_on_the_week_and_the_opening_until_the_lead_has_read_it()
    {
        var (chain, week) = await Opened();
        await week.PlanAndPublish();
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        var sent = await head.PressButton(await Page(head, "/memos"), "Send it to the stores",
            ("text", Text), ("direction", "first-rain"), ("safety:boolean", "true"));
        Assert.Equal((303, "/memos"), (sent.Status, sent.Location!));
        Assert.Contains("Read in 0 of 2 stores.", Markup.TextOf(await Page(head, "/memos")), StringComparison.Ordinal);

        using var lead = await SignedIn(chain, "p1", Role.Lead, "harbour-street"); // Asha Rowan of the crew file
        foreach (var page in new[] { $"{Address}/plan", $"{Address}/nights/monday/opening", Mine })
        {
            var words = Markup.TextOf(await Page(lead, page));
            Assert.Contains("Safety: head office writes, Monday 8 March, 12:00.", words, StringComparison.Ordinal);
            Assert.Contains(Text, words, StringComparison.Ordinal);
        }
        using var crew = await SignedIn(chain, "p1", Role.Crew, "harbour-street");
        Assert.DoesNotContain("I have read this", await Page(crew, $"{Address}/nights/monday/opening"), StringComparison.Ordinal);
        Assert.Contains(Text, Markup.TextOf(await Page(crew, $"{Address}/plan")), StringComparison.Ordinal);

        week.Clock.MoveTo("2027-03-08T13:00");
        var read = await lead.PressButton(await Page(lead, $"{Address}/nights/monday/opening"), "I have read this");
        Assert.Equal(303, read.Status);
        foreach (var page in new[] { $"{Address}/plan", $"{Address}/nights/monday/opening" })
            Assert.DoesNotContain(Text, Markup.TextOf(await Page(lead, page)), StringComparison.Ordinal);
        Assert.Contains("Read Monday 8 March, 13:00 by Asha Rowan.", Markup.TextOf(await Page(crew, Mine)), StringComparison.Ordinal);

        var list = Markup.Of(await Page(head, "/memos"));
        var address = (string)list.Descendants("a").Single(link => link.Value == "Read in 1 of 2 stores.").Attribute("href")!;
        var who = Markup.TextOf(await Page(head, address));
        Assert.Matches("Not read yet.*Mill Lane.*Read.*Harbour Street", who.ReplaceLineEndings(" "));
        Assert.DoesNotContain("Asha", who, StringComparison.Ordinal);
        var outside = Markup.TextOf(await Page(head, Mine));
        Assert.Contains("Read Monday 8 March, 13:00 by the lead.", outside, StringComparison.Ordinal);
        Assert.DoesNotContain("Asha", outside, StringComparison.Ordinal);

        var back = await head.PressButton(await Page(head, address), "Take this memo back");
        Assert.Equal(303, back.Status);
        Assert.Contains("Head office has taken this back.", Markup.TextOf(await Page(lead, Mine)), StringComparison.Ordinal);
        Assert.Empty((await chain.LeadOf("mill-lane").Get(Theirs)).Json["memos"]!.AsArray());
        Assert.DoesNotContain("hook", await service.EventsOf(chain), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_memo_is_for_its_stores_alone_and_for_weeks_that_launch_later()
    {
        var (chain, week) = await Opened();
        var mine = await Send(chain, ", \"stores\": [\"harbour-street\"]");
        Assert.Equal([mine], await Ids(week.Lead, Mine));
        Assert.Empty(await Ids(chain.LeadOf("mill-lane"), Theirs));
        var reading = $"{Theirs}/{mine}/read";
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Post(reading, "")).Status);
        week.Clock.MoveTo("2027-03-12T10:00"); // both weeks launched at nine
        var late = await Send(chain, "");
        Assert.Equal([mine], await Ids(week.Lead, Mine));
        Assert.Equal(404, (await week.Lead.Post($"{Mine}/{late}/read", "")).Status);

        Assert.Equal([late, mine], await Ids(chain.HeadOffice, "/memos"));
        var first = await ExpectStatus(200, chain.HeadOffice.Get("/memos?limit=1"));
        Assert.Equal(late, (string?)first.Json["memos"]!.AsArray().Single()!["id"]);
        Assert.Equal([mine], await Ids(chain.HeadOffice, PageLink.NextOf(first.Link!)));
        Assert.Equal([late], await Ids(chain.As("rex", Role.Region, "mill-lane"), "/memos"));
        Assert.Equal(404, (await chain.As("rex", Role.Region, "mill-lane").Get($"/memos/{mine}")).Status);
    }

    [Fact]
    public async Task Head_office_ticks_the_stores_that_get_a_memo()
    {
        var (chain, week) = await Opened();
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        const string form = "/memos?direction=first-rain";
        await ServiceProcess.Until(async () => PageForm.With(await Page(head, form), "Send it to the stores")
            .ValuesOf("stores:list").SequenceEqual(["harbour-street", "mill-lane"]));
        var refused = await head.PressButton(await Page(head, form), "Send it to the stores", ("stores:list", "mill-lane"));
        Assert.Equal(400, refused.Status);
        Assert.Equal(303, (await head.PressButton(refused.Text, "Send it to the stores", ("text", Text))).Status);
        Assert.Single(await Ids(chain.LeadOf("mill-lane"), Theirs));
        Assert.Empty(await Ids(week.Lead, Mine));
        Assert.Equal(400, (await head.Api.Get("/memos?direction=%00", ("Accept", "text/html"))).Status);
        week.Clock.MoveTo("2027-03-12T10:00"); // both weeks launched at nine
        Assert.Empty(PageForm.With(await Page(head, form), "Send it to the stores").ValuesOf("stores:list"));
    }

    [Fact]
    public async Task A_region_reads_every_page_of_memos_and_of_their_stores_only_those_that_it_reaches()
    {
        var (chain, week) = await Opened();
        var all = await Send(chain, "");
        week.Clock.MoveTo("2027-03-08T12:01"); // memos of one instant have no order
        var both = await Send(chain, ", \"stores\": [\"harbour-street\", \"mill-lane\"]");
        week.Clock.MoveTo("2027-03-08T12:02");
        await Send(chain, ", \"stores\": [\"harbour-street\"]");
        var region = chain.As("rex", Role.Region, "mill-lane");
        var first = await ExpectStatus(200, region.Get("/memos?limit=1"));
        Assert.Empty(first.Json["memos"]!.AsArray());
        var second = await ExpectStatus(200, region.Get(PageLink.NextOf(first.Link!)));
        var memo = second.Json["memos"]!.AsArray().Single()!;
        Assert.Equal((both, """["mill-lane"]"""), ((string?)memo["id"], memo["stores"]!.ToJsonString()));
        Assert.Equal([all], await Ids(region, PageLink.NextOf(second.Link!)));

        var one = (await ExpectStatus(200, region.Get($"/memos/{both}"))).Json["memo"]!;
        Assert.Equal("""["mill-lane"]""", one["stores"]!.ToJsonString());
        one = (await ExpectStatus(200, chain.HeadOffice.Get($"/memos/{both}"))).Json["memo"]!;
        Assert.Equal("""["harbour-street","mill-lane"]""", one["stores"]!.ToJsonString());

        using var browser = await SignedIn(chain, "rex", Role.Region, "mill-lane");
        var page = Markup.TextOf(await Page(browser, "/memos?limit=1"));
        Assert.Contains("The memos of this page are for stores that you do not reach.", page, StringComparison.Ordinal);
        Assert.Contains("Earlier memos", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_first_reading_stands_and_what_was_taken_back_is_not_read()
    {
        var (chain, week) = await Opened();
        var (read, other) = (await Send(chain, ""), await Send(chain, ""));
        await ExpectStatus(204, week.Lead.Post($"{Mine}/{read}/read", ""));
        var version = await week.ETag();
        await ExpectStatus(204, week.Lead.Post($"{Mine}/{read}/read", ""));
        Assert.Equal(version, await week.ETag());
        foreach (var memo in new[] { read, other, other })
            await ExpectStatus(204, chain.HeadOffice.Send(HttpMethod.Delete, $"/memos/{memo}", (string?)null));
        Assert.Equal("memo-withdrawn", (await week.Lead.Post($"{Mine}/{other}/read", "")).Code);
        Assert.Equal([read], await Ids(week.Lead, Mine));
        var known = (await ExpectStatus(200, chain.HeadOffice.Get($"/memos/{read}"))).Json;
        Assert.Equal((2, 1), ((int)known["memo"]!["weeks"]!, (int)known["memo"]!["read"]!));
    }

    [Theory]
    [InlineData("""{"direction": "none", "text": "Mind."}""", 422, "/direction")]
    [InlineData("""{"direction": "first-rain", "text": "Mind.", "stores": ["harbour-street", "none"]}""", 422, "/stores/1")]
    [InlineData("""{"direction": "first-rain"}""", 400, "/text")]
    public async Task A_memo_to_nobody_or_without_a_text_is_refused(string body, int status, string pointer)
    {
        var (chain, _) = await Opened();
        var refused = await ExpectStatus(status, chain.HeadOffice.Post("/memos", body));
        Assert.Equal(pointer, (string?)refused.Json["errors"]![0]!["pointer"]);
    }

    private async Task<(Chain, FirstRain)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        week.Clock.MoveTo("2027-03-08T12:00");
        return (chain, week);
    }

    private static async Task<string> Send(Chain chain, string more) => (string)(await ExpectStatus(201, chain.HeadOffice.Post(
        "/memos", $$"""{"direction": "first-rain", "text": "{{Text}}"{{more}}}"""))).Json["id"]!;

    private static async Task<IEnumerable<string?>> Ids(ApiClient client, string address) =>
        (await ExpectStatus(200, client.Get(address))).Json["memos"]!.AsArray().Select(memo => (string?)memo!["id"]);

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
