using System.Net;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>The people of a week as their lead sees them: Asha, Ben and Cleo, in the nights of 8, 9 and 10 March.</summary>
[Collection(ServiceCollection.Name)]
public sealed class CrewPageTests(RunningService service)
{
    private const string Crew = $"{Address}/crew";

    [Fact]
    public async Task The_page_says_who_can_come_who_has_keys_and_what_limits_them()
    {
        var (lead, week) = await Opened();
        await ExpectStatus(204, week.Lead.Put($"{Crew}/p2", """
            {"available": [{"night": "monday", "from": "2027-03-08T20:30"}, {"night": "tuesday", "to": "2027-03-09T22:00"}],
             "commitments": [{"from": "2027-03-08T12:00", "to": "2027-03-08T17:00"}], "maxNights": 2, "under18": true}
            """, ("If-Match", await week.ETag())));
        await ExpectStatus(204, week.Lead.Post($"{Crew}/p3/absent", """{"night": "monday", "why": "Has the flu"}"""));
        var page = await Page(lead, Crew);
        foreach (var words in new[]
        {
            "3 people. Asha Rowan and Ben Marsh have keys.", "Has keys. Painting (level 2 of 3) and dressing (level 1 of 3).",
            "Monday 8 March: from 20:30; Tuesday 9 March: until 22:00; Wednesday 10 March: cannot come.",
            "Monday 8 March: absent; Tuesday 9 March: all night; Wednesday 10 March: all night.",
            "Busy elsewhere: Monday 8 March, 12:00 to 17:00.", "At most 2 nights.", "£13.00 an hour.",
            "Under 18: the rules for young workers are kept.",
        }) Assert.Contains(words, page);
        Assert.DoesNotContain("flu", page);
        Assert.Contains($"href=\"{Address}/facts/crew/p2\"", page);
        Assert.Contains("""data-l="Can come:">Asha Rowan and Ben Marsh</td>""", page);
        Assert.Contains("""data-l="Cannot come:">Cleo Strand</td>""", page);

        var read = (await ExpectStatus(200, week.Lead.Get(Crew))).Json["crew"]!.AsArray();
        Assert.Equal((1200, "monday"), ((int)read[2]!["ratePerHour"]!, (string?)Assert.Single(read[2]!["absent"]!.AsArray())));
    }

    [Fact]
    public async Task A_lead_makes_a_calendar_link_which_is_shown_once_and_revokes_it()
    {
        var (lead, week) = await Opened();
        var made = await lead.PressButton(await Page(lead, Crew), "Make a calendar link for Ben Marsh");
        Assert.Equal(200, made.Status);
        var shown = WebUtility.HtmlDecode(made.Text);
        var address = new Uri(Regex.Match(shown, "value=\"(http[^\"]+/calendars/[0-9a-f]{64}[.]ics)\"").Groups[1].Value);
        Assert.Equal(200, (await week.Lead.Get(address.AbsolutePath)).Status);
        var page = await Page(lead, Crew);
        Assert.Contains("A calendar link was made ", page);
        Assert.DoesNotContain(address.AbsolutePath, page);
        Assert.NotNull((await week.Lead.Get(Crew)).Json["crew"]![1]!["calendar"]);

        var revoked = await lead.PressButton(page, "Revoke the calendar link of Ben Marsh");
        Assert.Equal(Crew, revoked.Location);
        Assert.Equal(404, (await week.Lead.Get(address.AbsolutePath)).Status);
    }

    [Fact]
    public async Task An_erasure_says_what_follows_and_leaves_no_name()
    {
        var (lead, week) = await Opened();
        await week.PlanAndPublish();
        var page = await Page(lead, Crew);
        Assert.Contains("This cannot be taken back.", page);
        var erased = await lead.PressButton(page, "Erase Cleo Strand for good");
        Assert.Equal(Crew, erased.Location);
        Assert.DoesNotContain("Cleo Strand", await Page(lead, Crew));
        Assert.Equal(2, (await week.Lead.Get(Crew)).Json["crew"]!.AsArray().Count);
        Assert.DoesNotContain("Cleo", await Page(lead, $"{Address}/told"));
    }

    [Fact]
    public async Task Head_office_reads_it_and_may_erase_and_nobody_else_gets_it()
    {
        await Opened();
        using var office = await Chain!.SignedIn("head", Role.HeadOffice);
        var page = await Page(office, Crew);
        Assert.DoesNotContain("calendar link for", page);
        Assert.Contains("Erase Ben Marsh for good", page);
        foreach (var role in new[] { Role.Crew, Role.Region, Role.Engineer })
        {
            var reader = Chain.As("reader", role);
            Assert.Equal("other-role", (await reader.Get(Crew)).Code);
            Assert.DoesNotContain("Rowan", (await reader.Get(Crew, ("Accept", "text/html"))).Text);
        }
        Assert.Equal(404, (await service.NewChain().LeadOf("harbour-street").Get(Crew)).Status);
    }

    private Chain? Chain { get; set; }

    private async Task<(Browser Lead, FirstRain Week)> Opened()
    {
        Chain = service.NewChain();
        var week = await new FirstRain(Chain).Open();
        var lead = await Chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        return (lead, week);
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return WebUtility.HtmlDecode(answer.Text);
    }
}
