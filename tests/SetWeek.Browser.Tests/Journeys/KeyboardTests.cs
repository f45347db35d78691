using Microsoft.Playwright;
using SetWeek.Browser.Tests.Offline;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>
/// What a crew, a lead and head office do by the keyboard alone: Tab, the arrows in a group, Space, Enter and typing. After each act
/// the page begins at its heading.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class KeyboardTests(Site site)
{
    [BrowserFact]
    public async Task A_night_is_opened()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        await phone.Page.GotoAsync(phone.AddressOf("nights/monday/opening"));
        foreach (var box in await phone.Page.GetByRole(AriaRole.Checkbox).AllAsync()) await phone.Visit.Press(box, "Space");
        await phone.Visit.Type(phone.Page.GetByLabel("Name of the person"), "Ben");
        await phone.Visit.Press(Button(phone.Page, "Open the night"), "Enter");
        await BeginsAt(phone.Page, "The opening of the night of Monday 8 March");
        await Expect(phone.Page.Locator(".lead")).ToContainTextAsync("Ben Marsh gives first aid tonight.");
    }

    [BrowserFact]
    public async Task A_piece_is_begun_with_its_gate_and_finished_with_its_check()
    {
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonight();
        foreach (var (act, sign, next) in new[] { ("Start", "Sign and start", "Finished"), ("Finished", "Sign and finish", "Start") })
        {
            await phone.Page.Leave(() => phone.Visit.Press(Act(act), "Enter"));
            await Expect(Button(phone.Page, sign)).ToBeVisibleAsync();
            foreach (var good in await phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).AllAsync())
                await phone.Visit.Press(good, "Space");
            await phone.Page.Leave(() => phone.Visit.Press(Button(phone.Page, sign), "Enter"));
            await Expect(Act(next).Or(Button(phone.Page, next))).ToBeVisibleAsync();
            await Expect(phone.Page.Locator("h1")).ToBeFocusedAsync();
        }
        Assert.Equal(["work-started 20:55 by p1", "work-finished 20:55 by p1"], await phone.Recorded());

        ILocator Act(string name) => phone.Page.Locator(".bar-acts").GetByRole(AriaRole.Link, new() { Name = name, Exact = true });
    }

    [BrowserFact]
    public async Task A_kit_is_counted_in()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.Page.GotoAsync(phone.AddressOf("kits/forms"));
        await phone.Visit.Press(phone.Page.GetByRole(AriaRole.Radio, new() { Name = "As expected" }), "ArrowRight");
        await Expect(phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Fewer" })).ToBeCheckedAsync();
        await phone.Visit.Type(phone.Page.GetByLabel("How many came, if fewer"), "3");
        await phone.Visit.Press(Button(phone.Page, "Sign the count"), "Enter");
        await Expect(phone.Page.Locator(".so").First).ToHaveTextAsync("Counted: 3 good, 1 missing.");
        await BeginsAt(phone.Page, "Forms");
        Assert.Equal(["kit-arrived 20:55 by p1"], await phone.Recorded("kit-arrived"));
    }

    [BrowserFact]
    public async Task A_person_chooses_a_PIN_and_signs_in_by_it()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await site.Open();
        await week.Enrol(phone.Page);
        week.MoveTo("2027-03-08T21:00");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"/stores/{week.Store}/pin-permissions", """{"person": "p1"}"""));
        await phone.Page.GotoAsync("/phone");
        await phone.Type(phone.Page.GetByLabel("New PIN, 4 to 8 figures, of Asha Rowan"), "4821");
        await phone.Press(Button(phone.Page, "Set the PIN of Asha Rowan"), "Enter");
        await BeginsAt(phone.Page, "Who has the phone in hand?");
        await phone.Type(phone.Page.GetByLabel("PIN of Asha Rowan"), "4821");
        await phone.Press(Button(phone.Page, "Go on as Asha Rowan"), "Enter");
        await Expect(phone.Page.GetByText("Signed in: Asha Rowan")).ToBeVisibleAsync();
        await Expect(phone.Page.Locator("h1")).ToBeFocusedAsync();
    }

    [BrowserFact]
    public async Task An_area_is_looked_at_and_a_check_is_not_good()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.Page.GotoAsync(phone.AddressOf("walk-through?area=window"));
        await phone.Visit.Press(phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).First, "ArrowRight");
        await phone.Visit.Type(phone.Page.GetByLabel("Why it is not good, or does not apply").First, "A cloth hangs in the way.");
        await phone.Visit.Press(Button(phone.Page, "Show window is looked at"), "Enter");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("A cloth hangs in the way.");
        await BeginsAt(phone.Page, "Walk-through");
        Assert.Equal(["area-looked-at 20:55 by p1"], await phone.Recorded("area-looked-at"));
    }

    [BrowserFact]
    public async Task A_night_is_closed()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        var opened = await week.Lead.Post(phone.AddressOf("nights/monday/opening"), """
            {"id": "o1", "at": "2027-03-08T20:00:00Z", "here": ["p1", "p2"], "firstAider": "p2", "said": ["exits", "first-aid"]}
            """);
        Assert.True(opened.Status < 300, opened.Text);
        await phone.Page.GotoAsync(phone.AddressOf("nights/monday/closing"));
        foreach (var good in await phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).AllAsync())
            await phone.Visit.Press(good, "Space");
        foreach (var isOut in await phone.Page.GetByRole(AriaRole.Checkbox, new() { NameRegex = new(" is out$") }).AllAsync())
            await phone.Visit.Press(isOut, "Space");
        await phone.Visit.Press(Button(phone.Page, "Close the night"), "Enter");
        await BeginsAt(phone.Page, "The closing of the night of Monday 8 March");
        await Expect(phone.Page.Locator(".lead")).ToContainTextAsync("Closed 20:55 by");
    }

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
        await BeginsAt(lead.Page, "412 Changed since read");
        await Expect(lead.Page.Locator(".lead")).ToHaveTextAsync(
            "It has changed since you opened this page. Read it again, then decide again.");
        await lead.Press(lead.Page.GetByRole(AriaRole.Link, new() { Name = "Back to the page before" }), "Enter");
        await Expect(lead.Page.Locator("h1")).ToHaveTextAsync("The week has changed since");
        await Expect(lead.Page.Locator("main")).ToContainTextAsync("Cleo Strand");

        await lead.Page.GotoAsync(await Replan(week) + "/changes");
        await lead.Press(accept, "Enter");
        await BeginsAt(lead.Page, "Issue 2 is the store’s plan");
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
        await lead.Press(Button(lead.Page, "Keep these for this week"), "Enter");
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

    private static ILocator Button(IPage page, string label) => page.GetByRole(AriaRole.Button, new() { Name = label, Exact = true });

    /// <returns>The address of another plan, once it is found.</returns>
    private static async Task<string> Replan(StoreWeek week) => $"{week.Address}/plans/{(await week.Ask())["id"]}";

    private static async Task BeginsAt(IPage page, string heading)
    {
        await Expect(page.Locator("h1")).ToHaveTextAsync(heading);
        await Expect(page.Locator("h1")).ToBeFocusedAsync();
    }
}
