using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Snags;

/// <summary>The snags of a chain, as a list and as the page of head office and a region.</summary>
[Collection(ServiceCollection.Name)]
public sealed class SnagLedgerTests(RunningService service)
{
    /// <summary>
    /// On Wednesday 10 March: of Harbour Street 1 is a hazard, 2 past its day, 3 put right; of Mill Lane 1 is due on Friday.
    /// </summary>
    private async Task<Chain> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")
            .Replace("\"zones\"", "\"region\": {\"id\": \"south\", \"name\": \"The South\"}, \"zones\"")));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        week.Clock.MoveTo("2027-03-08T23:30");
        await Raise(chain, "harbour-street", "Lamp hangs loose", "2027-03-09", "trade\", \"trade\": \"electrician", isHazard: true);
        await Raise(chain, "harbour-street", "Skirting chipped", "2027-03-09", "store");
        await Raise(chain, "harbour-street", "Scratch on the door", "2027-03-09", "store");
        await Raise(chain, "mill-lane", "Ben Marsh bent the <rail>", "2027-03-12", "person\", \"person\": \"p2");
        await ExpectStatus(204, chain.LeadOf("harbour-street").Post($"{Address}/snags/3/fixed",
            """{"id": "f1", "at": "2027-03-08T23:00:00Z"}"""));
        week.Clock.MoveTo("2027-03-10T08:00");
        return chain;
    }

    [Fact]
    public async Task The_page_puts_hazards_first_then_what_is_late_and_names_nobody()
    {
        var chain = await Opened();
        using var head = await chain.SignedIn("ada", Role.HeadOffice);
        var page = await Page(head, "/snags");
        var words = Markup.TextOf(page);
        Assert.Contains("3 snags are open, in 2 stores. Somebody could be hurt by 1 of them. 1 is past its day.", words,
            StringComparison.Ordinal);
        Assert.Equal(["Somebody could be hurt", "Past their day", "Open"],
            Markup.Of(page).Descendants("h2").Select(heading => heading.Value));
        Assert.Contains("Show window. Electrician, by Tuesday 9 March.", words, StringComparison.Ordinal);
        Assert.Contains("Show window. Somebody of the crew, by Friday 12 March.", words, StringComparison.Ordinal);
        Assert.Contains("First Rain, snag 1. 2 days old.", words, StringComparison.Ordinal);
        var links = Markup.Of(page).Descendants("a").Select(link => (string?)link.Attribute("href")).ToList();
        foreach (var snag in links.OfType<string>().Where(link => link.StartsWith("/weeks/", StringComparison.Ordinal)).Distinct())
            await Page(head, snag);
        Assert.Contains($"{Address}/snags/2", links);
        Assert.Contains("Snags", Markup.TextOf(await Page(head, "/")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "harbour-street 1, harbour-street 2, mill-lane 1")]
    [InlineData("?show=hazard", "harbour-street 1")]
    [InlineData("?show=late", "harbour-street 2")]
    [InlineData("?show=others", "mill-lane 1")]
    [InlineData("?owner=person", "mill-lane 1")]
    [InlineData("?owner=trade&show=&state=&direction=&store=&region=", "harbour-street 1")]
    [InlineData("?owner=headOffice", "")]
    [InlineData("?state=fixed", "harbour-street 3")]
    [InlineData("?state=fixed&show=hazard", "")]
    [InlineData("?store=mill-lane", "mill-lane 1")]
    [InlineData("?region=south", "mill-lane 1")]
    [InlineData("?direction=first-rain&show=late", "harbour-street 2")]
    [InlineData("?direction=other", "")]
    public async Task A_filter_selects_the_same_on_the_page_and_in_the_list(string query, string expected)
    {
        var chain = await Opened();
        var listed = (await ExpectStatus(200, chain.HeadOffice.Get($"/snags{query}"))).Json["snags"]!.AsArray()
            .Select(snag => $"{snag!["store"]} {snag["number"]}");
        Assert.Equal(expected, string.Join(", ", listed));
        using var head = await chain.SignedIn("ada", Role.HeadOffice);
        var shown = Markup.Of(await Page(head, $"/snags{query}")).Descendants("li").Select(entry => (string?)entry.Attribute("id"))
            .Where(id => id is not null).Order(StringComparer.Ordinal)
            .Select(id => id!.Replace("snag-first-rain.", "").Replace("street-", "street ").Replace("lane-", "lane "));
        Assert.Equal(expected, string.Join(", ", shown));
    }

    [Fact]
    public async Task A_region_and_a_lead_see_their_own_stores_and_a_long_list_has_a_next_page()
    {
        var chain = await Opened();
        using var region = await chain.SignedIn("rex", Role.Region, "mill-lane");
        var own = Markup.TextOf(await Page(region, "/snags"));
        Assert.Contains("1 snag is open, in 1 store.", own, StringComparison.Ordinal);
        Assert.DoesNotContain("Harbour Street", own, StringComparison.Ordinal);
        Assert.Contains("Ben Marsh bent the <rail>", own, StringComparison.Ordinal);
        foreach (var number in Enumerable.Range(1, 30))
            await Raise(chain, "mill-lane", $"Fault {number}", "2027-03-20", "store");
        using var lead = await chain.SignedIn("lena", Role.Lead, "mill-lane");
        var first = Markup.Of(await Page(lead, "/snags"));
        var next = (string)first.Descendants("a").Single(link => link.Value == "The next 6 of 31").Attribute("href")!;
        Assert.Equal(25 + 6, first.Descendants("li").Concat(Markup.Of(await Page(lead, next)).Descendants("li"))
            .Select(entry => (string?)entry.Attribute("id")).Where(id => id is not null).Distinct().Count());
        foreach (var wrong in new[] { "show=all", "state=lost", "owner=nobody", "skip=-1", "direction=%00" })
            Assert.Equal(400, (await lead.Api.Get($"/snags?{wrong}", ("Accept", "text/html"))).Status);
        Assert.Equal(403, (await chain.As("p3", Role.Crew, "mill-lane").Get("/snags")).Status);
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }

    private static Task Raise(Chain chain, string store, string what, string due, string owner, bool isHazard = false) =>
        ExpectStatus(201, chain.LeadOf(store).Post($"/weeks/first-rain.{store}/snags", $$"""
            {"id": "s-{{string.Concat(what.ToLowerInvariant().Where(char.IsAsciiLetterOrDigit))}}",
             "at": "2027-03-08T22:36:00Z", "what": "{{what}}", "zone": "window",
             "owner": "{{owner}}", "due": "{{due}}", "safety": {{(isHazard ? "true" : "false")}}}
            """));
}
