using System.Net;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

/// <summary>
/// The page of what was entered, on which a wrong report is taken back. Ben starts, and Asha says that it is finished.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class HistoryPageTests(RunningService service)
{
    private const string Page = $"{Address}/history", Button = "Take it back";

    [Fact]
    public async Task A_lead_takes_a_wrong_finish_back_and_the_piece_is_open_again()
    {
        var (chain, week) = await Reported();
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var page = await Read(lead, Page);
        Assert.Contains("You may take back every report from the floor.", Markup.TextOf(page));
        Assert.Contains("Monday 8 March, 20:40", Markup.TextOf(page));
        Assert.Contains("Entered by Asha Rowan.", Markup.TextOf(page));
        Assert.Equal(["phone-1.2", "phone-1.1"], Offered(page));

        var sent = await PageForm.With(page, Button).Fill("why", "The wrong <piece>.").Send(lead);
        Assert.True(sent.Status == 303, sent.Text);
        Assert.StartsWith($"{Page}#v", sent.Location);
        var work = Assert.Single((await week.Week())["work"]!.AsArray())!;
        Assert.Equal(("running", "wall.paint"), ((string?)work["state"], (string?)work["task"]));

        page = await Read(lead, Page);
        Assert.Equal(["phone-1.1"], Offered(page));
        var finish = Entries(page).Last(text => text.Contains("finished", StringComparison.Ordinal));
        Assert.Contains("Taken back Monday 8 March, 20:45, by lena.", finish);
        Assert.Contains("“The wrong <piece>.”", Markup.TextOf(page));
    }

    [Fact]
    public async Task Crew_take_back_here_what_they_entered_themselves_and_a_stop_is_not_taken_back()
    {
        var (chain, week) = await Reported();
        await ExpectStatus(204, chain.As("p1", Role.Crew, "harbour-street").Post($"{Address}/work/stopped",
            """{"id": "phone-1.3", "night": "monday", "zone": "window", "at": "2027-03-08T20:42:00Z"}"""));
        using var ben = await SignedIn(chain, "p2", Role.Crew);
        using var asha = await SignedIn(chain, "p1", Role.Crew);
        using var cleo = await SignedIn(chain, "p3", Role.Crew);
        Assert.Equal(["phone-1.2", "phone-1.1"], Offered(await Read(ben, Page))); // he did what Asha says is finished
        Assert.Empty(Offered(await Read(cleo, Page)));
        var page = await Read(asha, Page);
        Assert.Equal(["phone-1.2"], Offered(page));
        Assert.Contains("You may take back what you have entered yourself, or done with others", Markup.TextOf(page));

        Assert.Equal(303, (await PageForm.With(page, Button).Fill("why", "Not dry.").Send(asha)).Status);
        Assert.Equal("running", (string?)Assert.Single((await week.Week())["work"]!.AsArray())!["state"]);
        page = await Read(asha, Page);
        Assert.Empty(Offered(page));
        Assert.DoesNotContain("Not dry.", page); // only leads read notes
    }

    /// <summary>The service decides so too, also where the page does not offer it: in a queue, and by a program.</summary>
    [Fact]
    public async Task What_is_somebody_elses_is_refused_and_left_to_the_lead()
    {
        var (chain, week) = await Reported();
        var cleo = chain.As("p3", Role.Crew, "harbour-street");
        var refused = await cleo.Post($"{Address}/reports/phone-1.1/retracted", """{"id": "c1", "at": "2027-03-08T20:44:00Z"}""");
        Assert.Equal((403, "not-yours", "Not allowed"), (refused.Status, refused.Code, (string?)refused.Json["title"]));
        Assert.Contains("Ask the lead to take it back.", (string?)refused.Json["detail"]);
        var queue = (await ExpectStatus(200, cleo.Post($"{Address}/reports", """
            {"reports": [{"kind": "retracted", "report": "phone-1.2", "id": "c2", "at": "2027-03-08T20:44:00Z"},
                         {"kind": "stopped", "id": "c3", "night": "monday", "at": "2027-03-08T20:44:00Z"},
                         {"kind": "came", "id": "c4", "night": "monday", "person": "p3", "at": "2027-03-08T20:44:00Z"},
                         {"kind": "retracted", "report": "c4", "id": "c5", "at": "2027-03-08T20:44:30Z"},
                         {"kind": "retracted", "report": "on-its-way", "id": "c6", "at": "2027-03-08T20:44:30Z"}]}
            """))).Json["answers"]!.AsArray();
        Assert.Equal([403, 204, 204, 204, 204], queue.Select(item => (int)item!["status"]!));
        Assert.Equal("done", (string?)Assert.Single((await week.Week())["work"]!.AsArray())!["state"]);
        await ExpectStatus(204, chain.As("p2", Role.Crew, "harbour-street").Post($"{Address}/reports/phone-1.2/retracted",
            """{"id": "b1", "at": "2027-03-08T20:44:00Z"}"""));
        Assert.Equal("running", (string?)Assert.Single((await week.Week())["work"]!.AsArray())!["state"]);
    }

    /// <summary>A correction takes the other report out as a retraction does. It is refused alone and in a queue.</summary>
    [Fact]
    public async Task What_is_somebody_elses_is_not_corrected_either()
    {
        var (chain, week) = await Reported();
        var (asha, cleo) = (chain.As("p1", Role.Crew, "harbour-street"), chain.As("p3", Role.Crew, "harbour-street"));
        const string later = """
            {"id": "c1", "corrects": "phone-1.2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:44:00Z"}
            """;
        var refused = await cleo.Post($"{Address}/work/finished", later);
        Assert.Equal((403, "not-yours"), (refused.Status, refused.Code));
        var queue = (await ExpectStatus(200, cleo.Post($"{Address}/reports", """
            {"reports": [
              {"kind": "paused", "id": "c2", "corrects": "phone-1.2", "task": "wall.paint", "at": "2027-03-08T20:44:00Z"},
              {"kind": "came", "id": "c3", "night": "monday", "person": "p3", "at": "2027-03-08T20:00:00Z"},
              {"kind": "came", "id": "c4", "corrects": "c3", "night": "monday", "person": "p3", "at": "2027-03-08T20:05:00Z"}]}
            """))).Json["answers"]!.AsArray();
        Assert.Equal([403, 204, 204], queue.Select(item => (int)item!["status"]!));
        Assert.Equal("2027-03-08T20:40:00Z", (string?)await Finished());
        Assert.InRange((await asha.Post($"{Address}/work/finished", later)).Status, 200, 204); // she entered it
        Assert.Equal("2027-03-08T20:44:00Z", (string?)await Finished());

        async Task<JsonNode?> Finished() => Assert.Single((await week.Week())["work"]!.AsArray())!["to"];
    }

    [Theory]
    [InlineData(Role.HeadOffice)]
    [InlineData(Role.Region)]
    [InlineData(Role.Engineer)]
    public async Task Others_read_it_without_a_form_and_read_who_may_take_back(Role role)
    {
        var (chain, week) = await Reported();
        await ExpectStatus(204, chain.As("p3", Role.Crew, "harbour-street").Post($"{Address}/nights/monday/came",
            """{"id": "c1", "person": "p3", "at": "2027-03-08T20:41:00Z"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p2/absent", """{"night": "tuesday"}"""));
        using var reader = await SignedIn(chain, "rhea", role);
        var page = await Read(reader, Page);
        Markup.AssertNoForm(page);
        Assert.DoesNotContain("Entered by", page);
        // Who is late or absent is the store's own.
        var told = page + (await ExpectStatus(200, reader.Api.Get(Page))).Text;
        Assert.All(["Asha", "Ben", "Cleo", "\"p1\"", "\"p2\"", "\"p3\"", "lena"], name => Assert.DoesNotContain(name, told));
        Assert.All(["Issue 1 of the plan was published.", "Somebody came Mon 8 Mar, 20:41.", "Somebody is absent from the night of Tue 9 Mar."],
            sentence => Assert.Contains(sentence, Markup.TextOf(page)));
        Assert.Contains("The lead may take back every report from the floor, and crew what they have entered or done themselves.",
            Markup.TextOf(page));
    }

    /// <summary>The links lead through all that the JSON has, once each and the latest first.</summary>
    [Fact]
    public async Task It_is_read_page_by_page_to_the_opening_of_the_week()
    {
        var (_, week) = await Reported();
        await week.PlanIsChecked(); // no event is added meanwhile
        var all = (await ExpectStatus(200, week.Lead.Get(Page))).Json["events"]!.AsArray()
            .Select(entry => (string)entry!["sentence"]!).Reverse().ToList();
        Assert.True(all.Count > 3);
        List<string> read = [];
        for (string? next = $"{Page}?limit=2"; next is not null;)
        {
            var page = Markup.Of((await ExpectStatus(200, week.Lead.Get(next, ("Accept", "text/html")))).Text);
            var sentences = page.Descendants("li").Descendants("p").Where(part => part.Attribute("id") is not null)
                .Select(part => part.Value).ToList();
            Assert.InRange(sentences.Count, 1, 2);
            read.AddRange(sentences);
            next = (string?)page.Descendants("a").SingleOrDefault(link => (string?)link.Attribute("rel") == "next")
                ?.Attribute("href");
        }
        Assert.Equal(all, read);
        Assert.Equal(400, (await week.Lead.Get($"{Page}?before=x", ("Accept", "text/html"))).Status);
        Assert.Equal(all[^1], (string?)Assert.Single(
            (await ExpectStatus(200, week.Lead.Get($"{Page}?before=2"))).Json["events"]!.AsArray())!["sentence"]);
    }

    [Fact]
    public async Task The_night_and_the_facts_of_the_week_link_to_it()
    {
        var (chain, _) = await Reported();
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        using var ben = await SignedIn(chain, "p2", Role.Crew);
        Assert.Contains($"href=\"{Page}\"", await Read(lead, $"{Address}/nights/monday/sheet"));
        Assert.Contains($"href=\"{Page}\"", await Read(lead, $"{Address}/facts"));
        Assert.Contains($"href=\"{Page}\"", await Read(ben, $"{Address}/nights/monday/sheet?person=p2"));
    }

    /// <summary>The reports that the page offers to take back, in its order.</summary>
    private static IEnumerable<string> Offered(string page) => Markup.Of(page).Descendants("form")
        .Where(form => form.Descendants("button").Any(button => button.Value == Button))
        .Select(form => ((string)form.Attribute("action")!).Split('/')[^2]);

    /// <summary>The entries of the page as text, in its order.</summary>
    private static IEnumerable<string> Entries(string page) => Markup.Of(page).Descendants("li")
        .Where(item => item.Attribute("id") is not null).Select(item => item.Value);

    private static async Task<string> Read(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.True(answer.Status == 200, WebUtility.HtmlDecode(answer.Text));
        return answer.Text;
    }

    private static async Task<Browser> SignedIn(Chain chain, string person, Role role)
    {
        var browser = await chain.SignedIn(person, role);
        browser.FormToken = null; // a form carries its own
        return browser;
    }

    /// <summary>The week is published, and it is a quarter to nine on Monday.</summary>
    private async Task<(Chain Chain, FirstRain Week)> Reported()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:45");
        await Report("p2", "started", """
            {"id": "phone-1.1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:10:00Z", "people": ["p2"]}
            """);
        await Report("p1", "finished", """
            {"id": "phone-1.2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:40:00Z", "people": ["p2"]}
            """);
        return (chain, week);

        async Task Report(string person, string kind, string body) =>
            Assert.InRange(
                (await chain.As(person, Role.Crew, "harbour-street").Post($"{Address}/work/{kind}", body)).Status, 200, 204);
    }
}
