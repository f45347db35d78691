using Microsoft.Playwright;
using SetWeek.Browser.Tests.Offline;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Photos;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>
/// What is done on a phone by the keyboard alone: Tab, the arrows in a group, Space, Enter and typing. After each act the page
/// begins at its heading.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class PhoneKeyboardTests(Site site)
{
    [BrowserFact]
    public async Task A_night_is_opened()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        await phone.Page.GotoAsync(phone.AddressOf("nights/monday/opening"));
        foreach (var box in await phone.Page.GetByRole(AriaRole.Checkbox).AllAsync()) await phone.Visit.Press(box, "Space");
        await phone.Visit.Type(phone.Page.GetByLabel("Name of the person"), "Ben");
        await phone.Visit.Press(phone.Page.Button("Open the night"), "Enter");
        await phone.Page.BeginsAt("The opening of the night of Monday 8 March");
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
            await Expect(phone.Page.Button(sign)).ToBeVisibleAsync();
            foreach (var good in await phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).AllAsync())
                await phone.Visit.Press(good, "Space");
            await phone.Page.Leave(() => phone.Visit.Press(phone.Page.Button(sign), "Enter"));
            await Expect(Act(next).Or(phone.Page.Button(next))).ToBeVisibleAsync();
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
        await phone.Visit.Press(phone.Page.Button("Sign the count"), "Enter");
        await Expect(phone.Page.Locator(".so").First).ToHaveTextAsync("Counted: 3 good, 1 missing.");
        await phone.Page.BeginsAt("Forms");
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
        await phone.Press(phone.Page.Button("Set the PIN of Asha Rowan"), "Enter");
        await phone.Page.BeginsAt("Who has the phone in hand?");
        await phone.Type(phone.Page.GetByLabel("PIN of Asha Rowan"), "4821");
        await phone.Press(phone.Page.Button("Go on as Asha Rowan"), "Enter");
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
        await phone.Visit.Press(phone.Page.Button("Show window is looked at"), "Enter");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("A cloth hangs in the way.");
        await phone.Page.BeginsAt("Walk-through");
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
        await phone.Visit.Press(phone.Page.Button("Close the night"), "Enter");
        await phone.Page.BeginsAt("The closing of the night of Monday 8 March");
        await Expect(phone.Page.Locator(".lead")).ToContainTextAsync("Closed 20:55 by");
    }

    /// <summary>The list of files is the browser's own: a test chooses in its place once the keyboard has opened it.</summary>
    [BrowserFact]
    public async Task A_snag_is_raised_with_a_photograph()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        var page = phone.Page;
        await page.GotoAsync(phone.AddressOf("snags/new"));
        var files = await page.RunAndWaitForFileChooserAsync(() =>
            phone.Visit.Press(page.GetByLabel("Photograph, if it helps"), "Enter"));
        await files.SetFilesAsync(new FilePayload { Name = "p.jpg", MimeType = "image/jpeg", Buffer = TestPictures.Jpeg(800, 600) });
        await phone.Visit.Type(page.GetByLabel("What", new() { Exact = true }), "Skirting chipped");
        await phone.Visit.Type(page.GetByLabel("Where", new() { Exact = true }), "Show");
        await phone.Visit.Press(page.GetByLabel("Somebody could be hurt by it"), "Space");
        await page.Leave(() => phone.Visit.Press(page.Button("Keep the snag"), "Enter"));
        await page.BeginsAt("Snag");
        Assert.Equal(["snag-raised 20:55 by p1"], await phone.Recorded("snag-"));
        var snag = Assert.Single((await week.Lead.Get(phone.AddressOf("snags"))).Json["snags"]!.AsArray())!;
        Assert.Equal(("Skirting chipped", true), ((string?)snag["what"], (bool?)snag["safety"]));
        var photo = (string)Assert.Single(snag["photos"]!.AsArray())!;
        Assert.Equal(200, (await week.Lead.Get(phone.AddressOf($"photos/{photo}"))).Status);
    }
}
