using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>The form of a lead whose session has ended since the page was opened: what was typed is not lost.</summary>
[Collection(SiteCollection.Name)]
public sealed class SessionTests(Site site)
{
    private const string Why = "The driver is stuck at the port";

    [BrowserFact]
    public async Task A_form_stays_while_nobody_is_signed_in_and_goes_in_the_session_after()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var desk = await FilledIn(week);
        await Wait(desk);
        await using (var other = await week.SignedIn("lena", Role.Lead))
        {
            await other.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out on every device" }).ClickAsync();
            await Expect(other.Page.Locator("main")).ToContainTextAsync("Nobody is signed in.");
        }

        await Press(desk.Page);
        var notice = desk.Page.GetByRole(AriaRole.Alert);
        await Expect(notice).ToContainTextAsync("Nothing was sent. Your session is over. What you typed is still here.");
        Assert.Empty(await Pages.Inspection.FaultsOf(desk.Page, isPhone: false));
        await Expect(desk.Page.GetByLabel("Why, if it is known").First).ToHaveValueAsync(Why);

        var opened = desk.Context.WaitForPageAsync();
        await notice.GetByRole(AriaRole.Link, new() { Name = "Sign in again in another tab" }).ClickAsync();
        await using (var tab = new Visit(site, await opened, ownsContext: false))
        {
            await tab.Page.IsLoaded(); // what it opens with would interrupt what it is led to
            await tab.SignIn(week.Chain, "pat", Role.Lead, week.Store);
            await Press(desk.Page);
            await Expect(notice).ToContainTextAsync("Somebody else is signed in in this browser now.");
            await tab.SignIn(week.Chain, "lena", Role.Lead, week.Store);
        }
        await Press(desk.Page);
        await Arrived(desk.Page, week);
    }

    [BrowserFact]
    public async Task Whoever_signs_out_after_the_end_of_the_session_is_signed_out()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var desk = await FilledIn(week);
        await Wait(desk);
        await site.EndSessions(week.Chain, "lena");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await Expect(desk.Page.Locator("main")).ToContainTextAsync("Nobody is signed in.");
    }

    /// <summary>Also on a page that has only just been opened.</summary>
    [BrowserFact]
    public async Task Without_a_connection_a_form_stays_and_says_so()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var desk = await FilledIn(week);
        await desk.Context.SetOfflineAsync(true);
        await Press(desk.Page);
        await Expect(desk.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Nothing was sent. The service does not answer.");
        await desk.Context.SetOfflineAsync(false);
        await Press(desk.Page);
        await Arrived(desk.Page, week);
    }

    [BrowserFact]
    public async Task Without_script_the_refusal_says_what_was_typed_and_leads_back()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var desk = await FilledIn(week, hasScript: false);
        await site.EndSessions(week.Chain, "lena");
        await Press(desk.Page);
        await Expect(desk.Page.Locator("h1")).ToHaveTextAsync("401 Not signed in");
        await Expect(desk.Page.Locator(".lead")).ToContainTextAsync("nothing was kept. Sign in again in another tab");
        await Expect(desk.Page.Locator("main ul")).ToContainTextAsync(Why);
        await using (var tab = new Visit(site, await desk.Context.NewPageAsync(), ownsContext: false))
            await tab.SignIn(week.Chain, "lena", Role.Lead, week.Store);
        await desk.Page.GetByRole(AriaRole.Link, new() { Name = "Back to the page before" }).ClickAsync();
        await Expect(desk.Page.Locator("h1")).ToHaveTextAsync("Forms");
    }

    /// <summary>The desk of the lead, at the form that a kit is late, which is filled in and not sent yet.</summary>
    private async Task<Visit> FilledIn(StoreWeek week, bool hasScript = true)
    {
        var desk = await site.Open(options => options.JavaScriptEnabled = hasScript);
        await desk.SignIn(week.Chain, "lena", Role.Lead, week.Store);
        await desk.Page.GotoAsync($"{week.Address}/facts/kits/forms");
        await desk.Page.GetByLabel("It is now expected").FillAsync("2027-03-09T12:00");
        await desk.Page.GetByLabel("Why, if it is known").First.FillAsync(Why);
        return desk;
    }

    /// <summary>A page asks who is signed in once it has stood for a minute.</summary>
    private static Task Wait(Visit desk) => desk.Context.Clock.SetSystemTimeAsync(
        TimeProvider.System.GetUtcNow().UtcDateTime.AddMinutes(5));

    private static Task Press(IPage page) => page.GetByRole(AriaRole.Button, new() { Name = "It is late" }).ClickAsync();

    private static async Task Arrived(IPage page, StoreWeek week)
    {
        await Expect(page.Locator("main")).ToContainTextAsync("Forms: expected Tuesday 9 March, 12:00");
        var history = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/history"))).Json["events"]!.AsArray();
        Assert.Single(history, entry => (string?)entry!["type"] == "kit-delayed");
    }
}
