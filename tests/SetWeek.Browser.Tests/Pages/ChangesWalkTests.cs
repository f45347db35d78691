using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>A kit comes late: the lead compares a new plan with the published one, accepts it, and records who was told.</summary>
[Collection(SiteCollection.Name)]
public sealed class ChangesWalkTests(Site site)
{
    private static readonly (int Width, ColorScheme Scheme)[] Screens =
        [(360, ColorScheme.Light), (820, ColorScheme.Dark), (1440, ColorScheme.Light)];

    [BrowserFact]
    public async Task A_lead_compares_accepts_and_tells_at_every_width()
    {
        var week = await StoreWeek.Small(site);
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        var changes = $"{await Replan(week)}/changes";
        await using var visit = await week.SignedIn("lena", Role.Lead);
        var faults = new List<string>();
        await Inspect(visit, changes, faults);
        Assert.Contains("What would change", await visit.Page.InnerTextAsync("h1"));
        await visit.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Accept ") }).First.ClickAsync();
        Assert.Equal("Issue 2 is the store’s plan", await visit.Page.InnerTextAsync("h1"));

        await visit.Page.Locator("summary").First.ClickAsync();
        await visit.Page.GetByLabel("I called").First.CheckAsync();
        await visit.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^I told ") }).First.ClickAsync();
        Assert.Contains("on the telephone, by lena", await visit.Page.InnerTextAsync("main"));
        await Inspect(visit, $"{week.Address}/told", faults, page => page.Locator("summary").First.ClickAsync());
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.Empty(visit.Complaints);
    }

    private static async Task Inspect(Visit visit, string address, List<string> faults, Func<IPage, Task>? reach = null)
    {
        foreach (var (width, scheme) in Screens)
        {
            await visit.Page.SetViewportSizeAsync(width, 900);
            await visit.Page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            await visit.Page.GotoAsync(address);
            if (reach is not null) await reach(visit.Page);
            faults.AddRange((await Inspection.FaultsOf(visit.Page, isPhone: false)).Select(fault => $"{address}, {width}: {fault}"));
        }
    }

    /// <summary>Asks for a re-plan.</summary>
    /// <returns>Its address, once the search has ended.</returns>
    private static async Task<string> Replan(StoreWeek week)
    {
        var address = (await FirstRain.ExpectStatus(202,
            week.Lead.Post($"{week.Address}/plans", """{"seconds": 1, "workers": 1}"""))).Location!;
        for (var attempt = 0; attempt < 600; attempt++)
        {
            var plan = (await FirstRain.ExpectStatus(200, week.Lead.Get(address))).Json;
            if ((string?)plan["state"] is not ("queued" or "solving")) return address;
            await Task.Delay(50);
        }
        throw new TimeoutException($"{address} is still not settled.");
    }
}
