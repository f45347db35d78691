using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Photos;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Snags;

/// <summary>Snags on pages, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class SnagPagesTests(RunningService service)
{
    private const string Snags = $"{Address}/snags";

    [Fact]
    public async Task A_member_of_the_crew_raises_a_snag_with_a_photograph_and_puts_it_right()
    {
        var (chain, week) = await Opened();
        using var crew = await chain.SignedIn("p1", Role.Crew, "harbour-street");
        crew.FormToken = null; // a form carries its own
        Assert.Contains("Nothing is on the snag list.", await Page(crew, Snags));
        var form = PageForm.With(await Page(crew, $"{Snags}/new?zone=window"), "Keep the snag")
            .Fill("what", "Skirting <chipped>").Fill("why", "It was so before we came").Fill("owner", "person").Fill("person", "p2")
            .Fill("due", "2027-03-12").Attach(TestPictures.WithExif(TestPictures.Jpeg(), 6, "Maker"));
        var sent = await form.Send(crew);
        Assert.Equal((303, $"{Snags}/1"), (sent.Status, sent.Location));
        week.Clock.MoveTo("2027-03-08T22:41");
        Assert.Equal(303, (await form.Send(crew)).Status); // pressed twice

        var page = await Page(crew, $"{Snags}/1");
        Assert.All(["Snag 1: <bdi>Skirting <chipped></bdi>", "<bdi>Show window</bdi>.", "Ben Marsh, by Friday 12 March", "Found by Asha Rowan, Monday 8 March 22:40"],
            text => Assert.Contains(text, WebUtility.HtmlDecode(page)));
        Assert.DoesNotContain("<chipped>", page);
        Assert.Contains("/thumbnail", page);
        Assert.DoesNotContain("Hand it on", page);
        var list = WebUtility.HtmlDecode(await Page(crew, Snags));
        Assert.All(["One snag is open.", "Show window", "It was so before we came"], text => Assert.Contains(text, list));
        Assert.Single((await week.Lead.Get(Snags)).Json["snags"]!.AsArray());

        Assert.Equal(303, (await PageForm.With(page, "Put right").Fill("note", "Filled and painted.").Send(crew)).Status);
        page = WebUtility.HtmlDecode(await Page(crew, $"{Snags}/1"));
        Assert.All(["It is put right.", "Put right by Asha Rowan, Monday 8 March 22:41. <bdi>Filled and painted.</bdi>"],
            text => Assert.Contains(text, page));
        Assert.Contains("No snag is open. One is put right.", await Page(crew, Snags));
        Assert.Equal(303, (await PageForm.With(await Page(crew, $"{Snags}/1"), "Not right after all").Send(crew)).Status);
        Assert.Contains("It is open.", await Page(crew, $"{Snags}/1"));
    }

    [Fact]
    public async Task The_lead_hands_a_snag_on_accepts_it_and_takes_it_back()
    {
        var (chain, week) = await Opened();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T22:40");
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        var form = await Page(lead, $"{Snags}/new?piece=101&then={Address}/tonight");
        Assert.Contains("Tonight, Monday 8 March", form);
        var sent = await PageForm.With(form, "Keep the snag").Fill("what", "Seam opens").Send(lead);
        Assert.Equal((303, $"{Address}/tonight"), (sent.Status, sent.Location));
        Assert.Contains(", 101 (Show window)", WebUtility.HtmlDecode(await Page(lead, $"{Snags}/1")));

        await PageForm.With(await Page(lead, $"{Snags}/1"), "Hand it on").Fill("owner", "trade").Fill("trade", "Joiner")
            .Fill("due", "2027-03-16").Send(lead);
        await PageForm.With(await Page(lead, $"{Snags}/1"), "Accept it as it is").Send(lead);
        var page = WebUtility.HtmlDecode(await Page(lead, $"{Snags}/1"));
        Assert.All(["the lead has accepted it as it is", "Joiner, by Tuesday 16 March",
            "Handed on to Joiner and to be right by Tuesday 16 March by lena"], text => Assert.Contains(text, page));
        await PageForm.With(page, "Take the snag back").Send(lead);
        Assert.Contains("Nothing is on the snag list.", await Page(lead, Snags));
    }

    [Fact]
    public async Task A_danger_is_said_first_and_is_not_accepted_as_it_is()
    {
        var (chain, _) = await Opened();
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        await PageForm.With(await Page(lead, $"{Snags}/new"), "Keep the snag").Fill("what", "Glass is cracked").Fill("zone", "window")
            .Fill("safety:boolean", "true").Send(lead);
        var page = await Page(lead, $"{Snags}/1");
        Assert.Contains("Somebody could be hurt.", page);
        Assert.DoesNotContain("Accept it as it is", page);
        Assert.Contains("One snag is open, and somebody could be hurt by it.", await Page(lead, Snags));
    }

    [Fact]
    public async Task A_form_that_is_refused_says_why_and_leads_back()
    {
        var (chain, week) = await Opened();
        using var crew = await chain.SignedIn("p1", Role.Crew, "harbour-street");
        crew.FormToken = null;
        var empty = await PageForm.With(await Page(crew, $"{Snags}/new?zone=window"), "Keep the snag").Send(crew);
        Assert.Equal((400, "text/html"), (empty.Status, empty.ContentType));
        Assert.Contains("id=\"what-fault\"", empty.Text);
        Assert.DoesNotContain("choose the photograph again", empty.Text);
        var broken = await PageForm.With(await Page(crew, $"{Snags}/new?zone=window"), "Keep the snag").Fill("what", "Chipped")
            .Attach(TestPictures.Jpeg()[..^200]).Send(crew);
        Assert.Equal(422, broken.Status);
        Assert.Contains("cut off or damaged", broken.Text);
        Assert.Contains("What you typed is still here; choose the photograph again.", broken.Text);
        Assert.Empty((await week.Lead.Get(Snags)).Json["snags"]!.AsArray());
    }

    [Fact]
    public async Task Who_only_reads_sees_no_form()
    {
        var (chain, week) = await Opened();
        await ExpectStatus(201, week.Lead.Post(Snags, """
            {"id": "s1", "at": "2027-03-08T22:36:00Z", "what": "Chipped", "zone": "window", "owner": "store", "due": "2027-03-12"}
            """));
        using var head = await chain.SignedIn("head", Role.HeadOffice);
        Markup.AssertNoForm(await Page(head, $"{Snags}/1"));
        Assert.DoesNotContain("Raise a snag", await Page(head, Snags));
        Assert.Equal(403, (await head.Api.Get($"{Snags}/new", ("Accept", "text/html"))).Status);
    }

    private async Task<(Chain, FirstRain)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-08T22:40");
        return (chain, week);
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
