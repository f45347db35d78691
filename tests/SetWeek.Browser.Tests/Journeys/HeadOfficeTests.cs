using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>Head office keeps the ledger of the stores open.</summary>
[Collection(SiteCollection.Name)]
public sealed class HeadOfficeTests(Site site)
{
    internal const string Stopped = "Work is stopped in Show window since Monday 8 March, 20:10";

    private const string Quiet = "Nowhere is work stopped.";

    [BrowserFact]
    public async Task What_a_store_reports_is_on_the_ledger_without_loading_it_anew()
    {
        var week = await Night();
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        var page = head.Page;
        await page.SetViewportSizeAsync(390, 844);
        await page.AddInitScriptAsync("""
            window.shifts = [];
            new PerformanceObserver(list => shifts.push(...list.getEntries().filter(entry => !entry.hadRecentInput).map(entry =>
                `${entry.value.toFixed(4)}: ${entry.sources.map(source => source.node?.outerHTML?.slice(0, 80)).join(' | ')}`)))
                .observe({ type: 'layout-shift', buffered: true });
            """);
        await Counted(page);
        await page.EvaluateAsync("window.isTheSame = true");
        await Stop(week);
        await Expect(page.Locator("main")).ToContainTextAsync(Stopped);
        await Expect(page.Locator("#spoken")).ToContainTextAsync("Work is stopped in 1 store.");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/questions",
            """{"id": "q1", "for": "headOffice", "text": "Which one?", "at": "2027-03-08T20:11:00Z"}"""));
        await Expect(page.Locator("main")).ToContainTextAsync("1 question waits.");
        await Expect(page.Locator("main")).Not.ToContainTextAsync("not counted yet");
        Assert.True(await page.EvaluateAsync<bool>("window.isTheSame"));
        Assert.Empty(await page.EvaluateAsync<string[]>("shifts"));
        Assert.Empty(head.Complaints);
    }

    [BrowserFact]
    public async Task A_region_hears_of_its_store_without_loading_the_ledger_anew()
    {
        var week = await Night();
        await using var region = await site.SignedIn(week.Chain, "rex", Role.Region, week.Store);
        await Counted(region.Page);
        await region.Page.EvaluateAsync("window.isTheSame = true");
        await Stop(week);
        await Expect(region.Page.Locator("main")).ToContainTextAsync(Stopped);
        Assert.True(await region.Page.EvaluateAsync<bool>("window.isTheSame"));
        Assert.Empty(region.Complaints);
    }

    [BrowserFact]
    public async Task One_late_lorry_is_reported_for_every_store_and_its_page_can_be_read_by_everybody()
    {
        var week = await StoreWeek.Small(site);
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        var page = head.Page;
        await page.SetViewportSizeAsync(390, 844);
        await page.GotoAsync("/kit-delays");
        await page.GetByLabel("It is now expected").FillAsync("2027-03-10T12:00");
        await page.GetByRole(AriaRole.Button, new() { Name = "It is late" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Forms of First Rain, late");
        for (var look = 0; look < 600 && await page.GetByText("Look again").CountAsync() > 0; look++)
        {
            await Task.Delay(100);
            await page.Leave(() => page.GetByText("Look again").ClickAsync());
        }
        await Pages.Inspection.Look(page, "The launch can be kept");
        Assert.Empty(head.Complaints);
    }

    [BrowserFact]
    public async Task Whoever_writes_an_answer_keeps_it_and_is_told_that_something_new_has_come()
    {
        var week = await Night();
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/questions",
            """{"id": "q1", "for": "headOffice", "text": "Which one?", "at": "2027-03-08T20:05:00Z"}"""));
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        var page = head.Page;
        await Counted(page);
        await page.GetByText("Answer Harbour Street").First.ClickAsync();
        await page.GetByLabel("Your answer").FillAsync("The blue");
        await Stop(week);
        await Expect(page.Locator("#newer")).ToContainTextAsync("Something new has come.");
        await Expect(page.GetByLabel("Your answer")).ToHaveValueAsync("The blue");
        await Expect(page.Locator("main")).ToContainTextAsync(Quiet);
    }

    [BrowserFact]
    public async Task After_two_minutes_without_a_word_the_page_says_how_old_it_is_until_it_hears_again()
    {
        var week = await Night();
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        var page = head.Page;
        await head.Context.Clock.InstallAsync();
        await Counted(page);
        await head.Context.SetOfflineAsync(true);
        await head.Context.Clock.RunForAsync(100_000);
        await page.WaitForTimeoutAsync(500);
        Assert.Equal(0, await page.Locator("#old").CountAsync());
        await head.Context.Clock.RunForAsync(40_000);
        await Expect(page.Locator("#old")).ToContainTextAsync("This is how it stood at");
        Assert.Empty(await Pages.Inspection.FaultsOf(page, isPhone: false));
        await Stop(week);
        await head.Context.SetOfflineAsync(false);
        await head.Context.Clock.RunForAsync(20_000);
        await Expect(page.Locator("#old")).ToHaveCountAsync(0);
        await head.Context.Clock.RunForAsync(6_000);
        await Expect(page.Locator("main")).ToContainTextAsync(Stopped);
    }

    /// <summary>The stream and the service are there all the time, so the page hears of what it cannot read.</summary>
    [BrowserFact]
    public async Task While_the_page_cannot_be_read_it_says_how_old_it_is_and_it_is_read_later()
    {
        var week = await Night();
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        var page = head.Page;
        await head.Context.Clock.InstallAsync();
        await Counted(page);
        await page.RouteAsync("**/stores", route => route.FulfillAsync(new() { Status = 503 }));
        await page.RunAndWaitForResponseAsync(() => Stop(week), answer => answer.Status == 503);
        await head.Context.Clock.RunForAsync(140_000);
        await Expect(page.Locator("#old")).ToContainTextAsync("This is how it stood at");
        await Expect(page.Locator("main")).ToContainTextAsync(Quiet);
        await page.UnrouteAllAsync();
        await head.Context.Clock.RunForAsync(20_000);
        await Expect(page.Locator("main")).ToContainTextAsync(Stopped);
        await Expect(page.Locator("#old")).ToHaveCountAsync(0);
    }

    /// <summary>A browser opens six connections to a host at once over HTTP/1.1 (Chromium's number, from memory).</summary>
    [BrowserFact]
    public async Task Pages_that_nobody_sees_leave_their_connections_to_others_and_catch_up_when_they_are_seen()
    {
        var week = await Night();
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await Counted(head.Page);
        for (var tab = 0; tab < 7; tab++)
        {
            await SetSeen(head.Context.Pages[^1], false);
            await (await head.Context.NewPageAsync()).GotoAsync(new Uri(site.Address, "/stores").ToString());
        }
        await Stop(week);
        await SetSeen(head.Context.Pages[^1], false);
        await SetSeen(head.Page, true);
        await Expect(head.Page.Locator("main")).ToContainTextAsync(Stopped);
    }

    /// <summary>What a browser does when somebody turns to a tab, or away: in a test every page counts as seen.</summary>
    private static Task SetSeen(IPage page, bool isSeen) => page.EvaluateAsync("""
        state => {
            Object.defineProperty(document, 'visibilityState', { value: state, configurable: true });
            document.dispatchEvent(new Event('visibilitychange'));
        }
        """, isSeen ? "visible" : "hidden");

    /// <summary>A small week ten minutes into its first night.</summary>
    private async Task<StoreWeek> Night()
    {
        var week = await StoreWeek.Small(site);
        site.Clock.MoveTo("2027-03-08T20:12");
        return week;
    }

    /// <summary>Opens the ledger once it counts everything so far.</summary>
    internal static async Task Counted(IPage page)
    {
        for (var attempt = 0; attempt < 600; attempt++)
        {
            await page.GotoAsync("/stores");
            if (await page.Locator("[data-behind]").CountAsync() == 0) break;
            await Task.Delay(100);
        }
        await Expect(page.Locator("main")).ToContainTextAsync(Quiet);
    }

    internal static Task Stop(StoreWeek week) => FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/work/stopped",
        """{"id": "phone-1.1", "night": "monday", "zone": "window", "at": "2027-03-08T20:10:00Z"}"""));
}
