using System.Diagnostics;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>The pages of a night open without a network, and those of a session that is over do not.</summary>
[Collection(SiteCollection.Name)]
public sealed class KeptPagesTests(Site site)
{
    [BrowserFact]
    public async Task After_three_seconds_the_kept_copy_is_shown_and_then_that_a_newer_one_has_come()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        using (site.HoldAnswers("/nights/"))
        {
            var asked = Stopwatch.StartNew();
            await phone.OpenSheet(untilKept: false);
            Assert.InRange(asked.Elapsed.TotalSeconds, 3, 30); // far more than three, for a busy machine
            await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("No answer yet. This is the page as it stood at");
        }
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("A newer one has come.");
        await phone.Look();
        await phone.Page.GetByRole(AriaRole.Link, new() { Name = "Look now" }).ClickAsync();
        await phone.OpenFresh(phone.Page.Url);
        await Expect(phone.Page.Locator(".told.late")).ToHaveCountAsync(0);
        Assert.Empty(phone.Visit.Complaints);
    }

    [BrowserFact]
    public async Task Without_a_connection_it_lists_what_opens()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.Page.GotoAsync(phone.AddressOf("told"));
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("There is no connection");
        await Expect(phone.Page.Locator("[data-kept-pages] a").First).ToBeVisibleAsync();
        await phone.Look();
        await phone.Page.GetByRole(AriaRole.Link, new() { Name = "Tonight: Asha Rowan" }).ClickAsync();
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
        await Expect(phone.Page).ToHaveTitleAsync("Tonight: Asha Rowan");
    }

    /// <summary>A night in the demo's week begins where there is a network, and goes on where there is none.</summary>
    [BrowserTheory]
    [InlineData("maud", Role.Crew), InlineData("lena", Role.Lead)]
    public async Task What_the_night_and_its_lists_lead_to_opens_though_nobody_has_opened_it(string person, Role role)
    {
        var week = await site.HarbourStreet;
        week.MoveTo(week.Time);
        await using var phone = new NightPhone(week, await site.OpenPhone());
        await phone.SignIn(person, role);
        await phone.OpenTonight();
        string[] places = ["kits/paint", "kits/props", "walk-through?area=show-window", "walk-through?area=stockroom", "snags/new",
            "snags/2", "nights/night-1/opening", "nights/night-1/closing", "nights/night-1/sheet"];
        foreach (var place in places) await phone.UntilKept(phone.AddressOf(place));
        await phone.SetOffline(true);
        foreach (var place in places)
        {
            await phone.Page.GotoAsync(phone.AddressOf(place));
            await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
            await Expect(phone.Page.Locator("h1")).Not.ToHaveTextAsync("There is no connection");
        }
    }

    [BrowserFact]
    public async Task Another_persons_session_leaves_nothing_of_the_first()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.Until($"async person => (await ({PagesOf})(person)).length > 0", "p1");
        await phone.SignIn("p2");
        await phone.Until($"async person => (await ({PagesOf})(person)).length === 0", "p1");
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false); // the address of the first
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("There is no connection");
        await Expect(phone.Page.Locator("[data-kept-pages]")).Not.ToContainTextAsync("Asha Rowan");
    }

    /// <summary>The pages of a session that is over may still be asked for when the next person has signed in.</summary>
    [BrowserFact]
    public async Task What_a_page_of_an_earlier_session_asks_for_is_not_kept()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        var (late, own) = (phone.AddressOf("nights/tuesday/opening"), phone.AddressOf("nights/wednesday/opening"));
        await phone.Page.EvaluateAsync("""
            ([late, own]) => {
                const worker = navigator.serviceWorker.controller;
                const send = (address, session) => worker.postMessage({ keep: [address], session });
                send(late, 'an earlier session');
                send(own, document.documentElement.dataset.session); // the worker takes them in their order
            }
            """, new[] { late, own });
        await phone.UntilKept(own);
        Assert.False(await phone.Page.EvaluateAsync<bool>("async address => !!await caches.match(address)", late));
    }

    /// <summary>The addresses of the kept pages that were made for a person.</summary>
    private const string PagesOf = """
        async person => {
            const cache = await caches.open('pages'), found = [];
            for (const request of await cache.keys())
                if ((await (await cache.match(request)).text()).includes(`/${person}" `)) found.push(request.url);
            return found;
        }
        """;

    [BrowserFact]
    public async Task Signing_out_leaves_no_page_behind()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.Page.GotoAsync("/");
        await phone.Tap("Sign out");
        await Expect(phone.Page.GetByText("Nobody is signed in.")).ToBeVisibleAsync();
        await AssertNothingIsKept(phone);
    }

    /// <summary>Without a network the page asks the service first (acts.js), and sends no form.</summary>
    [BrowserFact]
    public async Task A_sign_out_without_a_network_is_not_sent_and_leaves_the_pages()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.Page.GotoAsync("/");
        await phone.SetOffline(true);
        await phone.Tap("Sign out");
        await Expect(phone.Page.Locator("body")).ToContainTextAsync("Nothing was sent. The service does not answer.");
        await AssertPagesAreLeft(phone);
    }

    /// <summary>The network goes away while the form is on its way, so that the browser does not know of it.</summary>
    [BrowserFact]
    public async Task A_sign_out_that_does_not_arrive_says_so_and_leaves_the_pages()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.Page.GotoAsync("/");
        site.LostPath = "/sign-out";
        try
        {
            await phone.Tap("Sign out");
            await Expect(phone.Page.Locator("body")).ToContainTextAsync("Whoever wanted to sign out is still signed in.");
        }
        finally
        {
            site.LostPath = null;
        }
        await phone.SetOffline(true);
        await AssertPagesAreLeft(phone);
    }

    private static async Task AssertPagesAreLeft(NightPhone phone)
    {
        await phone.OpenSheet(untilKept: false);
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
        await Expect(phone.Page).ToHaveTitleAsync("Tonight: Asha Rowan");
    }

    /// <summary>The network goes away between the answer to the form and the page that it leads to.</summary>
    [BrowserFact]
    public async Task A_sign_out_that_arrived_leaves_no_page_behind_without_the_page_after_it()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.Page.GotoAsync("/");
        site.LostPath = "/";
        try
        {
            await phone.Tap("Sign out");
            await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("There is no connection");
        }
        finally
        {
            site.LostPath = null;
        }
        await AssertNothingIsKept(phone);
    }

    [BrowserFact]
    public async Task The_manifest_makes_it_installable()
    {
        await using var visit = await site.OpenPhone();
        await visit.Page.GotoAsync("/");
        var devtools = await visit.Context.NewCDPSessionAsync(visit.Page);
        var manifest = (await devtools.SendAsync("Page.getAppManifest"))!.Value;
        Assert.Equal(0, manifest.GetProperty("errors").GetArrayLength());
        Assert.EndsWith("/setweek.webmanifest", manifest.GetProperty("url").GetString());
        var faults = (await devtools.SendAsync("Page.getInstallabilityErrors"))!.Value.GetProperty("installabilityErrors");
        // A context like a private window never offers to install.
        Assert.DoesNotContain(faults.EnumerateArray(), fault => fault.GetProperty("errorId").GetString() != "in-incognito");
    }

    private static async Task AssertNothingIsKept(NightPhone phone)
    {
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false);
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("There is no connection");
        await Expect(phone.Page.Locator("[data-kept-pages]")).ToHaveTextAsync("No page is kept on this device.");
    }
}
