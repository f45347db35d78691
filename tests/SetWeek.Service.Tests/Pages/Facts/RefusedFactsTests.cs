using System.Net;
using System.Text.RegularExpressions;
using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>A form that is refused says why, and keeps what was typed.</summary>
[Collection(ServiceCollection.Name)]
public sealed class RefusedFactsTests(RunningService service)
{
    [Fact]
    public async Task A_refused_form_is_shown_again_with_what_was_typed_and_each_fault_beside_its_field()
    {
        var (week, lead) = await Opened(service);
        var before = await week.ETag();
        var answer = await lead.PressButton(await Page(lead, $"{FactsAddress}/nights/tuesday"), "Keep these times",
            ("opens", "soon"), ("bans[1].trait:row", "noisy"), ("bans[1].from", "later"), ("bans[1].to", "2027-03-10T00:00"));
        var page = WebUtility.HtmlDecode(answer.Text);
        Assert.Equal((400, "text/html"), (answer.Status, answer.ContentType));
        Assert.Contains("Nothing has been kept yet.", page);
        Assert.Matches("id=\"night-opens-fault\">[^<]*is not a store-local time[^<]*</p><input id=\"night-opens\" name=\"opens\" type=\"datetime-local\" value=\"soon\" aria-invalid=\"true\" aria-describedby=\"night-opens-fault\"",
            page.Replace("\n", "").Replace("> <", "><"));
        Assert.Contains("value=\"later\" aria-invalid=\"true\"", page); // the second row, although the first was left empty
        Assert.DoesNotContain("name=\"closes\" type=\"datetime-local\" value=\"2027-03-10T00:00\" aria-invalid", page);
        Assert.Equal(before, await week.ETag());

        // What is wrong is mended in the same page, and the rest stays as it was typed.
        var mended = await lead.PressButton(answer.Text, "Keep these times",
            ("opens", "2027-03-09T19:00"), ("bans[1].from", "2027-03-09T22:00"));
        Assert.Equal(303, mended.Status);
        Assert.Equal("2027-03-09T22:00", (string?)At(await week.Week(), "/nights/1/bans/0/from"));
    }

    [Fact]
    public async Task What_was_left_empty_is_said_in_the_words_of_a_page()
    {
        var (_, lead) = await Opened(service);
        var answer = await lead.PressButton(await Page(lead, $"{FactsAddress}/nights/tuesday"), "Keep these times",
            ("bans[0].trait:row", "noisy"));
        var page = WebUtility.HtmlDecode(answer.Text);
        Assert.Equal(2, Regex.Count(page, "-fault\">This field is missing; give it.</p>"));
        Assert.Contains("2 things are not right; correct them and send the form again.", page);
    }

    [Fact]
    public async Task A_form_of_an_older_version_comes_back_with_what_was_typed()
    {
        var (week, lead) = await Opened(service);
        var page = await Page(lead, $"{FactsAddress}/zones/window");
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        var late = await lead.PressButton(page, "Keep these for this week", ("maxPeople:number", "7"));
        var again = late.Text;
        Assert.Equal(412, late.Status);
        Assert.Contains("Read it again, then decide again.", again);
        Assert.Contains("value=\"7\"", again);
        Assert.DoesNotContain("its version is now", again); // a number for programs
        var mended = await lead.PressButton(again, "Keep these for this week");
        Assert.Equal(303, mended.Status);
    }

    /// <summary>Whoever decides again sees what another lead has put in meanwhile.</summary>
    [Fact]
    public async Task A_form_of_an_older_version_says_what_is_so_now_beside_what_was_typed()
    {
        var (_, lead) = await Opened(service);
        var page = await Page(lead, $"{FactsAddress}/zones/window");
        Assert.Equal(303, (await lead.PressButton(page, "Keep these for this week", ("maxPeople:number", "4"))).Status);
        var late = await lead.PressButton(page.Replace("name=\":key\"", "name=\":other\""), "Keep these for this week",
            ("maxPeople:number", "7"));
        Assert.Equal(412, late.Status);
        Assert.Contains("value=\"7\"", late.Text);
        Assert.Contains("As it is now: <bdi>4</bdi>", late.Text);
        Assert.Single(Regex.Matches(late.Text, "As it is now"));
    }

    /// <summary>The page of a kit that has come offers no later day any more, so that it could not show the form again.</summary>
    [Fact]
    public async Task A_form_that_its_page_has_no_more_is_refused_on_a_page_of_its_own()
    {
        var (week, lead) = await Opened(service);
        var page = await Page(lead, $"{FactsAddress}/kits/forms");
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived",
            """{"id": "a1", "at": "2027-03-05T11:00:00Z", "lines": [{"item": "form", "received": 4}]}"""));
        var late = await lead.PressButton(page, "It is late", ("eta", "2027-03-10T12:00"), ("why", "A flat tyre."));
        Assert.Equal(409, late.Status);
        Assert.Contains("Report a count of what is missing instead.", late.Text);
        Assert.Contains("A flat tyre.", late.Text);
    }

    /// <summary>A form that names no page is answered with its refusal, not with what is wrong with that address.</summary>
    [Fact]
    public async Task A_form_of_a_page_that_is_none_is_refused_for_its_own_reason()
    {
        var (_, lead) = await Opened(service);
        var page = (await Page(lead, $"{FactsAddress}/kits/forms"))
            .Replace($"value=\"{FactsAddress}/kits/forms\"", "value=\"/nothing/here\"");
        var refused = await lead.PressButton(page, "It is late", ("eta", "soon"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("is not a store-local time", refused.Text);
    }

    /// <summary>Another site could make a browser send a form. What that says must not stand in a page with a valid token.</summary>
    [Fact]
    public async Task A_form_without_its_token_is_not_shown_again()
    {
        var (_, lead) = await Opened(service);
        var page = (await Page(lead, $"{FactsAddress}/zones/window")).Replace("name=\":token\"", "name=\":other\"");
        var answer = await lead.PressButton(page, "Keep these for this week", ("name", "Injected"));
        Assert.Equal(403, answer.Status);
        Assert.DoesNotContain("Injected", answer.Text);
    }
}
