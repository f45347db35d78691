using Microsoft.Playwright;
using SetWeek.Browser.Tests.Offline;
using SetWeek.Service.Access;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>A crew with the phones of its store.</summary>
[Collection(SiteCollection.Name)]
public sealed class CrewTests(Site site)
{
    [BrowserFact]
    public async Task A_crew_works_a_night_with_two_phones_of_which_one_is_offline_until_its_session_is_over()
    {
        var week = await TwoPieces.Published(site);
        site.Clock.MoveTo("2027-03-08T21:00");
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await using var cellar = await Enrolled(lead.Page, week);
        await using var floor = await Enrolled(lead.Page, week);
        await ChoosePin(lead.Page, week, cellar.Page, "Asha Rowan", "4821");
        await ChoosePin(lead.Page, week, floor.Page, "Ben Marsh", "60713");
        await GoOn(cellar.Page, "Asha Rowan", "4821");
        await GoOn(floor.Page, "Ben Marsh", "60713");

        await cellar.KeepTonight();
        await cellar.SetOffline(true); // the cellar has no network
        await cellar.OpenTonight();
        await cellar.Act("Start", "Sign and start");
        await Expect(cellar.Waiting).ToHaveCountAsync(1);
        await cellar.SetTime("21:40");
        await cellar.Act("Finished", "Sign and finish");
        await Expect(cellar.Waiting).ToHaveCountAsync(2);

        var sheet = floor.AddressOf("nights/monday/sheet");
        await floor.OpenFresh(sheet);
        var paint = floor.Page.GetByRole(AriaRole.Listitem)
            .Filter(new() { Has = floor.Page.GetByText("Paint the wall", new() { Exact = true }) });
        await Expect(paint).Not.ToContainTextAsync("Done 20:55");
        await floor.OpenFresh(floor.AddressOf("snags/new"));
        await floor.Page.GetByLabel("What", new() { Exact = true }).FillAsync("Skirting chipped");
        await floor.Page.GetByLabel("Where", new() { Exact = true }).SelectOptionAsync("window");
        await floor.Tap("Keep the snag");
        await Expect(floor.Page.GetByLabel("What", new() { Exact = true })).ToHaveValueAsync(""); // sent, and the form is new
        Assert.Equal(["snag-raised 20:55 by p2"], await floor.Recorded("snag-"));

        await site.EndSessions(week.Chain, "p1");
        site.Clock.MoveTo("2027-03-08T21:45");
        await cellar.SetOffline(false); // upstairs
        await Expect(cellar.Status).ToContainTextAsync("Your session is over. Nothing is lost: sign in again, then they go.");
        Assert.Empty(await cellar.Recorded());
        await cellar.Visit.Reopen();
        await GoOn(cellar.Page, "Asha Rowan", "4821");
        await Expect(cellar.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-started 20:55 by p1", "work-finished 21:40 by p1"], await cellar.Recorded());
        await floor.OpenFresh(sheet);
        await Expect(paint).ToContainTextAsync("Done 20:55–21:40.");
        Assert.Single(await floor.Recorded("snag-"));
    }

    /// <summary>A phone on which the code of the lead is typed.</summary>
    private async Task<NightPhone> Enrolled(IPage lead, StoreWeek week)
    {
        await lead.GotoAsync($"/stores/{week.Store}/phones");
        await lead.GetByRole(AriaRole.Button, new() { Name = "Make a code" }).ClickAsync();
        var code = await lead.Locator("p.hour").TextContentAsync();
        var phone = new NightPhone(week, await site.OpenPhone());
        await phone.SetClock();
        await phone.Page.GotoAsync("/phone");
        await phone.Page.GetByLabel("Code").FillAsync(code!);
        await phone.Tap("Enrol this phone");
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("Who has the phone in hand?");
        return phone;
    }

    /// <summary>The lead allows it, and the person chooses.</summary>
    private static async Task ChoosePin(IPage lead, StoreWeek week, IPage phone, string name, string pin)
    {
        await lead.GotoAsync($"/stores/{week.Store}/phones");
        await lead.GetByRole(AriaRole.Radio, new() { Name = name }).CheckAsync();
        await lead.GetByRole(AriaRole.Button, new() { Name = "Allow a PIN, now" }).ClickAsync();
        await Expect(lead.Locator("main")).ToContainTextAsync("may choose one until");
        await phone.GotoAsync("/phone");
        await phone.GetByLabel($"New PIN, 4 to 8 figures, of {name}").FillAsync(pin);
        await phone.GetByRole(AriaRole.Button, new() { Name = $"Set the PIN of {name}" }).ClickAsync();
        await Expect(phone.GetByRole(AriaRole.Button, new() { Name = $"Go on as {name}" })).ToBeVisibleAsync();
    }

    private static async Task GoOn(IPage phone, string name, string pin)
    {
        await phone.GotoAsync("/phone");
        await phone.GetByLabel($"PIN of {name}").FillAsync(pin);
        await phone.GetByRole(AriaRole.Button, new() { Name = $"Go on as {name}" }).ClickAsync();
        await Expect(phone.GetByText($"Signed in: {name}")).ToBeVisibleAsync();
    }
}
