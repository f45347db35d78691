using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A kept page has its style sheet, fonts and modules, also when the service is updated in the night.</summary>
[Collection(SiteCollection.Name)]
public sealed class KeptFilesTests(Site site)
{
    private const string Next = "00000000000000a1", AfterNext = "00000000000000a2";

    /// <summary>Takes the kept pages anew, as after a report was sent.</summary>
    private const string Renew = "() => navigator.serviceWorker.controller.postMessage({ renew: true })";

    private const string HasFiles = """
        async version => (await (await caches.open('files')).keys()).some(({ url }) => url.includes(`/assets/${version}/`))
        """;

    /// <summary>The clock is not set: with one of a test's own, the browser does not say what a page has loaded.</summary>
    [BrowserFact]
    public async Task Every_file_that_a_kept_page_loads_is_kept_with_it()
    {
        var week = await StoreWeek.Small(site);
        site.Clock.MoveTo("2027-03-08T21:00");
        await using var phone = new NightPhone(week, await site.OpenPhone());
        await phone.SignIn("p1");
        await phone.OpenSheet();
        var loaded = await phone.Page.EvaluateAsync<string[]>("""
            () => [...new Set(performance.getEntriesByType('resource').map(({ name }) => name))]
                .filter(name => name.includes('/assets/'))
            """);
        foreach (var name in new[] { "/setweek.css", "/archivo.woff2", "/start.js", "/kept.js" })
            Assert.Contains(loaded, address => address.EndsWith(name, StringComparison.Ordinal));
        await UntilAllIsKept(phone);
        await phone.Page.EvaluateAsync("() => caches.delete('files')");
        await phone.Page.EvaluateAsync(Renew);
        await phone.Until("""
            async loaded => {
                const cache = await caches.open('files'), kept = await Promise.all(loaded.map(address => cache.match(address)));
                return kept.every(file => file?.ok);
            }
            """, loaded);
    }

    [BrowserFact]
    public async Task A_copy_that_is_taken_anew_after_an_update_opens_with_the_files_of_its_version()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        var last = await UntilAllIsKept(phone);
        await AfterUpdate(Next, async () =>
        {
            await phone.Page.EvaluateAsync(Renew);
            await UntilVersion(phone, last, Next); // and so every other page: the address of tonight leads to the sheet again
        });
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false);
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
        Assert.Contains($"/assets/{Next}/", await StyleSheet(phone), StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task A_page_that_does_not_answer_keeps_no_other_from_being_taken_anew()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        var last = await UntilAllIsKept(phone);
        await AfterUpdate(Next, async () =>
        {
            site.LostPath = new Uri(phone.Page.Url).AbsolutePath; // also where the address of tonight leads to
            await phone.Page.EvaluateAsync(Renew);
            await UntilVersion(phone, last, Next);
        });
    }

    /// <summary>The page that says that there is no connection is of the version that the phone began with.</summary>
    [BrowserFact]
    public async Task Files_of_a_version_that_no_kept_page_uses_are_removed()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await AfterUpdate(Next, async () =>
        {
            await phone.SignIn("p1");
            await phone.OpenSheet();
            await phone.Until(HasFiles, Next);
        });
        await AfterUpdate(AfterNext, async () =>
        {
            await phone.SignIn("p1"); // the pages of an earlier session are removed
            await phone.OpenSheet();
            await phone.Until($"async version => !await ({HasFiles})(version)", Next);
            await phone.Until(HasFiles, AfterNext);
        });
        await phone.SetOffline(true);
        await phone.Page.GotoAsync(phone.AddressOf("told"));
        await Expect(phone.Page.Locator("[data-kept-pages] a").First).ToBeVisibleAsync();
        Assert.NotEmpty(await StyleSheet(phone));
    }

    private async Task AfterUpdate(string version, Func<Task> act)
    {
        site.Version = version;
        try
        {
            await act();
        }
        finally
        {
            (site.Version, site.LostPath) = (null, null);
        }
    }

    /// <summary>
    /// Waits until the worker has taken what the sheet has asked for, and then another page: it does one thing after another.
    /// </summary>
    /// <returns>The address of that page, which is the last of those that are kept.</returns>
    private static async Task<string> UntilAllIsKept(NightPhone phone)
    {
        await phone.UntilKept(phone.AddressOf("nights/monday/sheet?view=not-safe")); // no page before the sheet asks for it
        var last = phone.AddressOf("nights/wednesday/opening");
        await phone.Page.EvaluateAsync("""
            async last => {
                const { active } = await navigator.serviceWorker.ready, { session } = document.documentElement.dataset;
                active.postMessage({ keep: [last], session });
            }
            """, last);
        await phone.UntilKept(last);
        return last;
    }

    /// <summary>The address of the style sheet that the page uses; empty if it has none.</summary>
    private static Task<string> StyleSheet(NightPhone phone) => phone.Page.EvaluateAsync<string>(
        "() => [...document.styleSheets].find(({ cssRules }) => cssRules.length > 0)?.href ?? ''");

    private static Task UntilVersion(NightPhone phone, string address, string version) => phone.Until("""
        async ([address, version]) => (await (await (await caches.open('pages')).match(address)).text()).includes(version)
        """, new[] { address, version });
}
