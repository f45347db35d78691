using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>A lead at a desk.</summary>
[Collection(SiteCollection.Name)]
public sealed partial class LeadTests(Site site)
{
    [BrowserFact]
    public async Task A_lead_asks_for_a_plan_sees_how_far_it_is_and_publishes_it()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Page.GotoAsync($"{week.Address}/plan");
        await Ask(lead.Page);
        await Expect(lead.Page).ToHaveURLAsync(PlanAddress());
        // The page turns into the plan by itself, once the search has settled.
        var publish = lead.Page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" });
        await Expect(publish).ToBeVisibleAsync();
        await publish.ClickAsync();
        await Expect(lead.Page).ToHaveURLAsync(new Regex("/plan$"));
        Assert.Empty(lead.Complaints);
    }

    /// <summary>The test is the search: it tells of two plans, the second better than the first.</summary>
    [BrowserFact]
    public async Task While_a_search_goes_on_its_page_shows_the_best_so_far_and_the_bound()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await using (await site.HoldSearches())
        {
            await lead.Page.GotoAsync($"{week.Address}/plan");
            await Ask(lead.Page);
            await Expect(lead.Page).ToHaveURLAsync(PlanAddress());
            var main = lead.Page.Locator("main");
            await Expect(main).ToContainTextAsync("No plan is found yet.");
            await lead.Page.EvaluateAsync("document.body.dataset.notReloaded = ''");
            var plan = lead.Page.Url[^32..];
            await site.TellBest(week.Chain, plan, new(1200, [new(GoalId.LeftOut, 0, 0), new(GoalId.Cost, 6000, 4400)], []));
            await Expect(main).ToContainTextAsync("The best plan so far was found after 1.2 s. The search goes on.");
            await Expect(main).Not.ToContainTextAsync("No plan is found yet.");
            await Expect(lead.Page.Locator("tbody tr")).ToHaveTextAsync(
                [new Regex("0, which is proven"), new Regex("£60.00\\s*£44.00")]);
            await site.TellBest(week.Chain, plan, new(2500, [new(GoalId.LeftOut, 0, 0), new(GoalId.Cost, 5000, 5000)], []));
            await Expect(main).ToContainTextAsync("found after 2.5 s.");
            await Expect(lead.Page.Locator("tbody tr").Last).ToHaveTextAsync(new Regex("£50.00\\s*£50.00, which is proven"));
            await Expect(lead.Page.Locator("body[data-not-reloaded]")).ToHaveCountAsync(1);
        }
        Assert.Empty(lead.Complaints);
    }

    [BrowserFact]
    public async Task Of_two_tabs_the_later_decision_is_told_what_has_changed()
    {
        var week = await StoreWeek.Small(site);
        await using var first = await week.SignedIn("lena", Role.Lead);
        await using var second = new Visit(site, await first.Context.NewPageAsync(), ownsContext: false);
        await first.Page.GotoAsync($"{week.Address}/plan");
        await Ask(first.Page);
        var publish = first.Page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" });
        await Expect(publish).ToBeVisibleAsync();
        await second.Page.GotoAsync(first.Page.Url);
        await publish.ClickAsync();
        await Expect(first.Page).ToHaveURLAsync(new Regex("/plan$"));
        await second.Page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" }).ClickAsync();
        await Expect(second.Page.Locator("main")).ToContainTextAsync("decide again");
    }

    [BrowserFact]
    public async Task A_lead_without_a_mouse_asks_for_a_plan_and_publishes_it()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Page.GotoAsync($"{week.Address}/plan");
        await lead.PressByKeyboard("Ask for another plan");
        await Expect(lead.Page).ToHaveURLAsync(PlanAddress());
        await Expect(lead.Page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" })).ToBeVisibleAsync();
        await Expect(lead.Page.Locator("h1")).ToBeFocusedAsync(); // the page is there with its scripts
        await lead.PressByKeyboard("Publish this plan");
        await Expect(lead.Page).ToHaveURLAsync(new Regex("/plan$"));
    }

    private static async Task Ask(IPage page)
    {
        await page.GetByLabel("Look for how many seconds?").FillAsync("5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask for another plan" }).ClickAsync();
    }

    [GeneratedRegex("/plans/[0-9a-f]{32}")]
    private static partial Regex PlanAddress();
}
