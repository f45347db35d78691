using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>Pages of a lead that stay open at a desk while others report, or while there is no network.</summary>
[Collection(SiteCollection.Name)]
public sealed class StaleDeskTests(Site site)
{
    [BrowserFact]
    public async Task After_two_minutes_without_a_word_each_page_of_a_lead_says_how_old_it_is_until_it_hears_again()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var (page, clock) = (lead.Page, lead.Context.Clock);
        await clock.InstallAsync();
        foreach (var address in new[] { "plan", "facts", "told", "kits", "hours", "plan/risk" }.Select(place => $"{week.Address}/{place}")
            .Append($"/stores/{week.Store}"))
        {
            await page.GotoAsync(address);
            await lead.Context.SetOfflineAsync(true);
            await clock.RunForAsync(100_000);
            await page.WaitForTimeoutAsync(300);
            Assert.Equal(0, await page.Locator("#old").CountAsync());
            await clock.RunForAsync(40_000);
            await Expect(page.Locator("#old")).ToContainTextAsync("This is how it stood at");
            await Expect(page.Locator("#old")).ToBeInViewportAsync();
            await lead.Context.SetOfflineAsync(false);
            await clock.RunForAsync(20_000);
            await Expect(page.Locator("#old")).ToHaveCountAsync(0);
        }
    }

    [BrowserFact]
    public async Task Whoever_fills_in_a_form_is_told_that_something_new_has_come_and_keeps_what_was_typed()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var (page, clock) = (lead.Page, lead.Context.Clock);
        await clock.InstallAsync();
        await page.GotoAsync($"{week.Address}/facts/zones/window#zone-h");
        await Asked(page, () => clock.RunForAsync(1_000));
        await page.GetByLabel("Most people at work").FillAsync("7");
        await Asked(page, () => clock.RunForAsync(20_000));
        await Expect(page.Locator("#newer")).ToHaveCountAsync(0); // nothing has happened
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        await Asked(page, () => clock.RunForAsync(20_000));
        await Expect(page.Locator("#newer")).ToContainTextAsync("Something new has come.");
        await Expect(page.Locator("#newer")).ToBeInViewportAsync();
        await Expect(page.GetByLabel("Most people at work")).ToHaveValueAsync("7");
        Assert.Empty(await Pages.Inspection.FaultsOf(page, isPhone: false));
        await page.GetByRole(AriaRole.Link, new() { Name = "Look now" }).ClickAsync();
        await Expect(page.Locator("#newer")).ToHaveCountAsync(0);
        Assert.Empty(lead.Complaints);
    }

    /// <summary>Each page of the lead is opened, then something happens, and only then the page asks or is seen.</summary>
    [BrowserFact]
    public async Task What_happens_before_a_page_asks_for_the_first_time_is_said()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var (page, clock) = (lead.Page, lead.Context.Clock);
        await clock.InstallAsync();
        await page.GotoAsync($"{week.Address}/facts/zones/window");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        await Asked(page, () => clock.RunForAsync(1_000));
        await Expect(page.Locator("#newer")).ToContainTextAsync("Something new has come.");

        // In the background, and without a form that names the version.
        await page.AddInitScriptAsync("Object.defineProperty(document, 'visibilityState', { get: () => window.seen ?? 'hidden' })");
        await Asked(page, () => page.GotoAsync($"{week.Address}/kits"));
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p2/absent", """{"night": "wednesday"}"""));
        await clock.RunForAsync(60_000);
        await Expect(page.Locator("#newer")).ToHaveCountAsync(0); // a page that nobody sees asks nothing more
        await Asked(page, () => page.EvaluateAsync("window.seen = 'visible'; document.dispatchEvent(new Event('visibilitychange'))"));
        await Expect(page.Locator("#newer")).ToContainTextAsync("Something new has come.");
    }

    /// <summary>Waits until the page has asked for the version of the week, and the answer has come.</summary>
    private static Task Asked(IPage page, Func<Task> wait) => page.RunAndWaitForResponseAsync(wait,
        answer => answer.Request.Method == "HEAD" && answer.Url.Contains("/weeks/", StringComparison.Ordinal));
}
