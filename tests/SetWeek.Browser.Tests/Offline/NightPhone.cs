using Microsoft.Playwright;
using SetWeek.Browser.Tests.Pages;
using SetWeek.Service.Access;
using SetWeek.Service.Nights;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A phone of the crew in the Monday night of the small week. Its clock says 20:55.</summary>
internal sealed class NightPhone(StoreWeek week, Visit visit) : IAsyncDisposable
{
    public const string Now = "2027-03-08T20:55:00Z";

    public IPage Page => visit.Page;

    public Visit Visit => visit;

    /// <summary>What is said of the reports that wait.</summary>
    public ILocator Status => Page.Locator("main > [role=status]").First;

    /// <summary>The acts that wait, in their order.</summary>
    public ILocator Waiting => Page.GetByRole(AriaRole.Region, new() { Name = "Not yet sent" }).Locator("h3");

    public ILocator Refused => Page.GetByRole(AriaRole.Region, new() { Name = "Not accepted" });

    private string Sheet => $"{week.Address}/nights/monday/sheet?person=p1";

    public static async Task<NightPhone> SignedIn(Site site, StoreWeek week, string person = "p1", Role role = Role.Crew)
    {
        site.Clock.MoveTo("2027-03-08T21:00");
        var phone = new NightPhone(week, await site.OpenPhone());
        await phone.SignIn(person, role);
        await phone.SetClock();
        return phone;
    }

    public Task SignIn(string person, Role role = Role.Crew) => visit.SignIn(week.Chain, person, role, week.Store);

    public Task SetClock() => visit.Context.Clock.SetSystemTimeAsync(Now);

    /// <summary>Moves the phone's clock to a time of Monday.</summary>
    public Task SetTime(string time) => visit.Context.Clock.SetSystemTimeAsync($"2027-03-08T{time}:00Z");

    /// <param name="place">Below the address of the week.</param>
    public string AddressOf(string place) => $"{week.Address}/{place}";

    public Task OpenTonight() => Page.GotoAsync(AddressOf("tonight"));

    /// <summary>Opens the person's night, and waits until it is kept with the pages of every act of its pieces.</summary>
    public async Task KeepTonight()
    {
        await OpenTonight();
        var links = await Page.Locator(".run a[href*='act=start']")
            .EvaluateAllAsync<string[]>("links => links.map(link => link.href)");
        Assert.NotEmpty(links);
        foreach (var act in ReadPiece.Acts)
            foreach (var link in links) await UntilKept(link.Replace("act=start", $"act={act}", StringComparison.Ordinal));
        await UntilKept(AddressOf("tonight"));
    }

    public Task UntilKept(string address) => Until("""
        async address => !!await (await caches.open('pages')).match(new URL(address, location.href).href)
        """, address);

    /// <summary>Opens a page until it is no kept copy: on a busy machine its answer may come after the copy is shown.</summary>
    public async Task OpenFresh(string address)
    {
        for (var attempt = 0; attempt < 30; attempt++)
        {
            await Page.GotoAsync(address);
            if (await Page.Locator("html[data-kept]").CountAsync() == 0) return;
        }
        Assert.Fail($"Only the kept copy of {address} is shown.");
    }

    /// <summary>
    /// Asks the page until it says yes. A promise is truthy, so that WaitForFunctionAsync may end before the script has; and
    /// EvaluateAsync alone waits without end.
    /// </summary>
    public async Task Until(string script, object? argument = null)
    {
        for (var attempt = 0; attempt < 600; attempt++)
        {
            if (await Says(script, argument)) return;
            await Task.Delay(100);
        }
        Assert.Fail($"The page never said yes: {script} {argument}");
    }

    /// <summary>What the page says; no while it is left for the next, which a page does by itself once its reports are sent.</summary>
    private async Task<bool> Says(string script, object? argument)
    {
        try
        {
            return await Page.EvaluateAsync<bool>(script, argument).WaitAsync(TimeSpan.FromMilliseconds(Visit.Patience));
        }
        catch (PlaywrightException left) when (left.Message.Contains("Execution context was destroyed", StringComparison.Ordinal))
        {
            return false;
        }
    }

    public Task UntilNothingWaits() => Until("""
        () => new Promise(done => {
            const queue = indexedDB.open('setweek');
            queue.onsuccess = () => {
                const reports = queue.result.transaction('reports').objectStore('reports').count();
                reports.onsuccess = () => {
                    queue.result.close();
                    done(reports.result === 0);
                };
            };
        })
        """);

    /// <summary>Opens the night's sheet, and waits until the phone has kept it if it is connected.</summary>
    public async Task OpenSheet(bool untilKept = true)
    {
        await Page.GotoAsync(Sheet);
        if (untilKept) await UntilKept(Page.Url);
    }

    /// <summary>Looks at the page as it stands, with what its script has said. It has no fault on any screen.</summary>
    public async Task Look() => Assert.Empty(await Inspection.FaultsOnEveryScreen(Page, isPhone: true));

    /// <summary>Adds a form to the page as the pages of the crew have it.</summary>
    public Task AddForm(string act, string task, string label) => AddForm($"work/{act}", label, new Dictionary<string, string>
    {
        ["id"] = "made-by-the-page", ["at:now"] = "", ["task"] = task, ["night"] = "monday",
    });

    /// <param name="address">Below the address of the week.</param>
    public Task AddForm(string address, string label, Dictionary<string, string> fields) => Page.EvaluateAsync("""
        ({ action, label, fields }) => {
            const form = document.createElement('form');
            Object.assign(form, { method: 'post', action, className: 'added' });
            form.setAttribute('data-report', '');
            const own = { ':token': 'as old as the page', ':then': location.pathname + location.search };
            for (const [name, value] of Object.entries({ ...own, ...fields }))
                form.append(Object.assign(document.createElement('input'), { type: 'hidden', name, value }));
            form.append(Object.assign(document.createElement('button'), { textContent: label }));
            document.querySelector('main').append(form);
        }
        """, new { action = $"{week.Address}/{address}", label, fields });

    public ILocator Button(string label) => Page.GetByRole(AriaRole.Button, new() { Name = label, Exact = true });

    public Task Tap(string label) => Button(label).ClickAsync();

    /// <summary>Adds a form and taps its button. The page is then loaded again, from the phone if there is no network.</summary>
    public async Task Report(string act, string task, string label)
    {
        await AddForm(act, task, label);
        await Tap(label);
        await IsLoadedAgain();
    }

    /// <summary>Waits until the page with the added form is gone.</summary>
    public async Task IsLoadedAgain()
    {
        await Assertions.Expect(Page.Locator("form.added")).ToHaveCountAsync(0);
        await Page.IsLoaded();
    }

    /// <summary>Playwright sets no limit to it.</summary>
    public Task SetOffline(bool isOffline) =>
        visit.Context.SetOfflineAsync(isOffline).WaitAsync(TimeSpan.FromMilliseconds(Visit.Patience));

    /// <summary>The reports that the service has, in the order of their receipt: "work-started 20:55 by p1".</summary>
    /// <param name="type">How their type begins.</param>
    public async Task<IReadOnlyList<string>> Recorded(string type = "work-") =>
        [.. (await week.Lead.Get($"{week.Address}/history")).Json["events"]!.AsArray()
            .Where(entry => ((string)entry!["type"]!).StartsWith(type, StringComparison.Ordinal))
            .Select(entry => $"{entry!["type"]} {((string)entry["at"]!)[11..16]} by {entry["who"]}")];

    /// <summary>A browser that does not close its page hides no failure: the next test has a context of its own.</summary>
    public async ValueTask DisposeAsync() =>
        await Task.WhenAny(visit.DisposeAsync().AsTask(), Task.Delay(TimeSpan.FromSeconds(20)));
}
