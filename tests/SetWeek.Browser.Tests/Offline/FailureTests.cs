using Microsoft.Playwright;
using SetWeek.Service.Access;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A service that fails does not know who is signed in, so its failure removes no page that a phone has kept.</summary>
[Collection(SiteCollection.Name)]
public sealed class FailureTests(Site site)
{
    [BrowserFact]
    public async Task While_no_session_can_be_read_the_kept_copy_is_shown_and_it_stays()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await using (await site.LoseSessions())
        {
            await phone.OpenSheet(untilKept: false);
            await AssertIsKeptSheet(phone, "The service cannot show this page now.");
            await phone.Page.GotoAsync(phone.AddressOf("told")); // it has no copy
            await Expect(phone.Page.Locator("h1")).ToContainTextAsync("500");
            await phone.Until("() => !!navigator.serviceWorker.controller"); // its script has begun
        }
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false);
        await AssertIsKeptSheet(phone, "No connection.");
    }

    [BrowserFact]
    public async Task While_no_session_can_be_read_a_report_waits_and_the_page_says_that_the_service_fails()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await using (await site.LoseSessions())
        {
            await phone.Report("started", "wall.paint", "Started");
            await Expect(phone.Status).ToContainTextAsync("The service cannot take them now. One report waits on this phone.");
        }
        await phone.Tap("Try now");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    /// <summary>The network of a café answers in the place of the service until somebody signs in to it.</summary>
    [BrowserFact]
    public async Task Where_another_answers_for_the_service_the_kept_copy_is_shown_and_it_stays()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        site.StrangePath = new Uri(phone.Page.Url).AbsolutePath;
        try
        {
            await phone.OpenSheet(untilKept: false);
            await AssertIsKeptSheet(phone, "The connection does not reach the service.");
        }
        finally
        {
            site.StrangePath = null;
        }
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false);
        await AssertIsKeptSheet(phone, "No connection.");
    }

    /// <param name="reason">Why the copy is shown.</param>
    private static async Task AssertIsKeptSheet(NightPhone phone, string reason)
    {
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync($"{reason} This is the page as it stood at");
        await Expect(phone.Page).ToHaveTitleAsync("Tonight: Asha Rowan");
    }

    /// <summary>The first page of a browser has no worker, and its script looks itself whose pages are kept.</summary>
    [BrowserFact]
    public async Task Without_a_worker_a_failure_removes_nothing_either_and_the_end_of_the_session_does()
    {
        var week = await StoreWeek.Small(site);
        await using var visit = await site.SignedIn(week.Chain, "p1", Role.Crew, week.Store);
        await visit.Page.EvaluateAsync("""
            async () => (await caches.open('pages')).put('/kept-session', new Response(document.documentElement.dataset.session))
            """);
        await using (await site.LoseSessions())
        {
            await visit.Page.GotoAsync(week.Address);
            await Expect(visit.Page.Locator("h1")).ToContainTextAsync("500");
            Assert.True(await IsSessionKept(visit.Page));
        }
        await visit.Page.GotoAsync(week.Address);
        Assert.True(await IsSessionKept(visit.Page));
        await site.EndSessions(week.Chain, "p1");
        await visit.Page.GotoAsync("/");
        await Expect(visit.Page.GetByText("Nobody is signed in.")).ToBeVisibleAsync();
        Assert.False(await IsSessionKept(visit.Page));
    }

    /// <summary>Asks after the page's script has begun: what it removes, it removes at once.</summary>
    private static async Task<bool> IsSessionKept(IPage page)
    {
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        return await page.EvaluateAsync<bool>("async () => !!await caches.match('/kept-session')");
    }
}
