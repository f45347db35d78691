using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>A lead begins with a store that has no week yet.</summary>
[Collection(SiteCollection.Name)]
public sealed partial class NewWeekTests(Site site)
{
    [BrowserFact]
    public async Task From_the_page_of_a_store_a_week_is_opened_its_crew_joins_and_a_plan_is_asked_for()
    {
        var chain = Site.NewChain();
        var office = site.As(chain, "head", Role.HeadOffice);
        await FirstRain.ExpectStatus(201, office.Post("/directions", FirstRain.Direction));
        await FirstRain.ExpectStatus(201, office.Post("/stores", Samples.Store()));
        site.Clock.MoveTo("2027-03-01T12:00");
        await using var lead = await site.SignedIn(chain, "lena", Role.Lead, "harbour-street");
        var page = lead.Page;
        await page.GotoAsync("/stores/harbour-street");
        await page.GetByRole(AriaRole.Main).GetByRole(AriaRole.Link, new() { Name = "Open a week" }).ClickAsync();
        await page.GetByLabel("Everything must be ready by").FillAsync("2027-03-12T09:00");
        await page.GetByLabel("Nights before that").FillAsync("3");
        await page.GetByLabel("From", new() { Exact = true }).FillAsync("20:00");
        await page.GetByLabel("Until", new() { Exact = true }).FillAsync("00:00");
        await page.GetByLabel("Working time in Great Britain").CheckAsync();
        await Seen(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on" }).ClickAsync();

        await page.GetByLabel("The currency of pay").FillAsync("GBP");
        await page.GetByLabel("Forms", new() { Exact = true }).FillAsync("2027-03-09T12:00");
        await Seen(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Open this week" }).ClickAsync();
        await Expect(page.Locator("main")).ToContainTextAsync("Painting needs 1 person at once; the crew has nobody.");

        foreach (var (name, painting) in new[] { ("Asha Rowan", "2"), ("Ben Marsh", "") })
        {
            await page.GotoAsync($"{FirstRain.Address}/plan");
            await page.GetByRole(AriaRole.Link, new() { Name = "Somebody joins" }).ClickAsync();
            await page.Locator("[name='name']").FillAsync(name);
            await page.Locator("[name='ratePerHour:number']").FillAsync("1400");
            await page.Locator("[name='skills.painting:number']").SelectOptionAsync(painting);
            await page.Locator("[name='skills.dressing:number']").SelectOptionAsync("2");
            await page.GetByRole(AriaRole.Button, new() { Name = "Add to the crew" }).ClickAsync();
            await Expect(page.Locator("main")).ToContainTextAsync(name);
        }
        await page.GotoAsync($"{FirstRain.Address}/plan");
        await Expect(page.Locator("main")).Not.ToContainTextAsync("at once; the crew has");
        await Seen(page);
        await page.GetByLabel("Look for how many seconds?").FillAsync("5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask for a plan" }).ClickAsync();
        await Expect(page).ToHaveURLAsync(PlanAddress());
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" })).ToBeVisibleAsync();
        Assert.Empty(lead.Complaints);
    }

    private static async Task Seen(IPage page) => Assert.Empty(await Pages.Inspection.FaultsOf(page, isPhone: false));

    [GeneratedRegex("/plans/[0-9a-f]{32}")]
    private static partial Regex PlanAddress();
}
