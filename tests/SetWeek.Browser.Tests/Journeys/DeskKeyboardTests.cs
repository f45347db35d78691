using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>
/// What a lead and head office do at a desk by the keyboard alone: Tab, the arrows in a group, Space, Enter and typing. After each
/// act the page begins at its heading.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class DeskKeyboardTests(Site site)
{
    [BrowserFact]
    public async Task An_option_is_accepted_and_one_that_is_overtaken_says_so()
    {
        var week = await StoreWeek.Small(site);
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await using var second = new Visit(site, await lead.Context.NewPageAsync(), ownsContext: false);
        var accept = lead.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Accept ") }).First;
        await lead.Page.GotoAsync(await Replan(week) + "/changes");
        await second.Page.GotoAsync($"{week.Address}/facts/crew/p3");
        await second.Page.GetByRole(AriaRole.Button, new() { Name = "Record the absence" }).ClickAsync();
        await Expect(second.Page.Locator("h1")).ToHaveTextAsync("What has changed?");

        await lead.Press(accept, "Enter");
        await lead.Page.BeginsAt("412 Changed since read");
        await Expect(lead.Page.Locator(".lead")).ToHaveTextAsync(
            "It has changed since you opened this page. Read it again, then decide again.");
        await lead.Press(lead.Page.GetByRole(AriaRole.Link, new() { Name = "Back to the page before" }), "Enter");
        await Expect(lead.Page.Locator("h1")).ToHaveTextAsync("The week has changed since");
        await Expect(lead.Page.Locator("main")).ToContainTextAsync("Cleo Strand");

        await lead.Page.GotoAsync(await Replan(week) + "/changes");
        await lead.Press(accept, "Enter");
        await lead.Page.BeginsAt("Issue 2 is the store’s plan");
    }

    [BrowserFact]
    public async Task A_form_that_is_refused_begins_at_what_is_wrong()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Page.GotoAsync($"{week.Address}/facts/zones/window");
        var most = lead.Page.GetByLabel("Most people at work in it at once");
        await most.EvaluateAsync("field => field.value = ''");
        await lead.Type(most, "-5");
        await lead.Press(lead.Page.Button("Keep these for this week"), "Enter");
        var alert = lead.Page.GetByRole(AriaRole.Alert);
        await Expect(alert).ToBeFocusedAsync();
        await Expect(alert).ToBeInViewportAsync();
        await Expect(most).ToHaveValueAsync("-5");
    }

    /// <summary>The link that has the focus stays where it is when the ledger is read again; one that is gone leads to the heading.</summary>
    [BrowserFact]
    public async Task The_focus_is_not_lost_when_a_page_follows_what_happens()
    {
        var week = await StoreWeek.Small(site);
        site.Clock.MoveTo("2027-03-08T20:12");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/questions",
            """{"id": "q1", "for": "headOffice", "text": "Which one?", "at": "2027-03-08T20:05:00Z"}"""));
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await HeadOfficeTests.Counted(head.Page);
        var summary = head.Page.Locator("details[id$=-answer] summary");
        await head.Press(summary, "Space");
        await Expect(head.Page.Locator("details[open]")).ToHaveCountAsync(1);
        await HeadOfficeTests.Stop(week);
        await Expect(head.Page.Locator("main")).ToContainTextAsync(HeadOfficeTests.Stopped);
        await Expect(summary).ToBeFocusedAsync();

        await FirstRain.ExpectStatus(204, site.As(week.Chain, "head", Role.HeadOffice).Post(
            $"{week.Address}/questions/q1/answer", """{"text": "The blue"}"""));
        await Expect(head.Page.Locator("main")).Not.ToContainTextAsync("Which one?");
        await Expect(head.Page.Locator("h1")).ToBeFocusedAsync();
    }

    [BrowserFact]
    public async Task Somebody_is_told_and_agrees()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var page = lead.Page;
        await page.GotoAsync($"{week.Address}/told");
        var record = page.Locator("main details").First;
        var name = (await record.Locator("summary").InnerTextAsync()).Replace("Record for ", "", StringComparison.Ordinal);
        await lead.Press(record.Locator("summary"), "Enter");
        await lead.Press(record.GetByLabel("I said it face to face"), "ArrowDown");
        await Expect(record.GetByLabel("I called")).ToBeCheckedAsync();
        await page.Leave(() => lead.Press(page.Button($"I told {name}"), "Enter"));
        await page.BeginsAt("Issue 1 is the store’s plan");
        await Expect(page.Locator("main")).ToContainTextAsync("on the telephone, by lena");

        await lead.Press(page.Locator("summary").Filter(new() { HasText = name }), "Enter");
        await page.Leave(() => lead.Press(page.Button($"{name} agrees"), "Enter"));
        await page.BeginsAt("Issue 1 is the store’s plan");
        var told = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/told"))).Json["people"]!.AsArray()
            .Single(person => (string?)person!["name"] == name)!;
        Assert.Equal("agreed", (string?)told["answer"]!["answer"]);
    }

    [BrowserFact]
    public async Task A_week_is_handed_over_and_the_hand_over_is_withdrawn()
    {
        var week = await FinishedWeek.Of(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var page = lead.Page;
        await page.GotoAsync($"{week.Address}/hand-over");
        await lead.Type(page.GetByLabel("Name, and what the person does"), "Hester Vane, runs the store");
        await lead.Type(page.GetByLabel("Note for the morning"), "The strings are on the left switch.");
        await page.Leave(() => lead.Press(page.Button("Accept with one thing open"), "Enter"));
        await page.BeginsAt("Hand-over");
        await Expect(page.Locator("main")).ToContainTextAsync("Hester Vane, runs the store accepted the week");
        await Expect(page.Locator("main")).ToContainTextAsync("The strings are on the left switch.");

        await lead.Type(page.GetByLabel("Why is it not accepted any more?"), "A lamp went out.");
        await page.Leave(() => lead.Press(page.Button("Withdraw the hand-over"), "Enter"));
        await page.BeginsAt("Hand-over");
        await Expect(page.Locator(".lead")).ToContainTextAsync("Not handed over");
    }

    /// <returns>The address of another plan, once it is found.</returns>
    private static async Task<string> Replan(StoreWeek week) => $"{week.Address}/plans/{(await week.Ask())["id"]}";
}
