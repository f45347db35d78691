using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>A week changes, and its lead comes to another plan by forms alone.</summary>
[Collection(SiteCollection.Name)]
public sealed class ReplanTests(Site site)
{
    /// <summary>
    /// The forms need two of the three who dress. They come after Tuesday and Cleo is absent on Wednesday, so that Asha and Ben set
    /// them on Wednesday. The panel is held in another night than it has.
    /// </summary>
    [BrowserFact]
    public async Task A_lead_puts_in_what_has_happened_compares_holds_a_piece_accepts_and_tells()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var page = lead.Page;
        await page.GotoAsync($"{week.Address}/plan");
        await Follow(page, "What has changed");
        await Follow(page, "Cleo Strand");
        await page.GetByLabel("In the night of", new() { Exact = true }).SelectOptionAsync("wednesday");
        await page.GetByLabel("Why, if you want to say").FillAsync("Family");
        await Press(page, "Record the absence");
        await Expect(page.Locator("main")).ToContainTextAsync("Cleo Strand: absent on Wednesday");
        await Expect(page.Locator("main")).Not.ToContainTextAsync("Family");
        await Follow(page, "Forms");
        await page.GetByLabel("It is now expected").FillAsync("2027-03-10T12:00");
        await Press(page, "It is late");
        await Expect(page.Locator("main")).ToContainTextAsync("Forms: expected Wednesday 10 March, 12:00");

        await Ask(page, "Ask for another plan");
        await page.GotoAsync($"{new Uri(page.Url).AbsolutePath}/changes");
        await Expect(page.Locator("h1")).ToHaveTextAsync("What would change");
        Assert.Contains("As published", await page.Locator("section[aria-labelledby=ways] thead").InnerTextAsync());
        var changes = page.Url;

        var night = week.Work.Single(work => work.Task == "cycle.panel.fix").Night == "tuesday" ? "monday" : "tuesday";
        await page.GotoAsync($"{week.Address}/facts/pins");
        var work = page.Locator("section[aria-labelledby=work-h]");
        await work.GetByLabel("Task").SelectOptionAsync("cycle.panel.fix");
        await work.GetByLabel("In the night of").SelectOptionAsync(night);
        await Press(page, "Hold this work");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Let it go" })).ToHaveCountAsync(1);
        await page.GotoAsync(changes);
        await Expect(page.Locator("h1")).ToHaveTextAsync("The week has changed since");
        await Ask(page, "Ask for another plan");
        await page.GotoAsync($"{new Uri(page.Url).AbsolutePath}/changes");
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Accept ") }).First.ClickAsync();

        await Expect(page.Locator("h1")).ToHaveTextAsync("Issue 2 is the store’s plan");
        await page.Locator("main summary").First.ClickAsync();
        var record = page.Locator("details[open]").First;
        await record.GetByLabel("I called").CheckAsync();
        await record.GetByRole(AriaRole.Button, new() { NameRegex = new("^I told ") }).ClickAsync();
        await Expect(page.Locator("main")).ToContainTextAsync("on the telephone, by lena");
        var plan = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/plan"))).Json;
        Assert.Contains(plan["nights"]!.AsArray(), one => (string?)one!["night"] == night
            && one["work"]!.AsArray().Any(done => (string?)done!["task"] == "cycle.panel.fix"));
        Assert.Empty(lead.Complaints);
    }

    [BrowserFact]
    public async Task A_lead_of_a_week_without_a_plan_reads_why_accepts_a_repair_and_publishes()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction, Samples.Store(),
            FirstRain.Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null", StringComparison.Ordinal));
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var page = lead.Page;
        await page.GotoAsync($"{week.Address}/plan");
        await Ask(page, "Ask for a plan", "There is no plan");
        await Expect(page.Locator("section[aria-labelledby=conflict]")).ToContainTextAsync("Forms");
        await Press(page, "Accept change 1, and plan");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Publish this plan" })).ToBeVisibleAsync();
        await Press(page, "Publish this plan");
        await Expect(page).ToHaveURLAsync(new Uri(site.Address, $"{week.Address}/plan").ToString());
        await Expect(page.Locator("main")).ToContainTextAsync("Issue 1");
        Assert.Empty(lead.Complaints);
    }

    private static Task Follow(IPage page, string link) =>
        page.GetByRole(AriaRole.Link, new() { Name = link, Exact = true }).First.ClickAsync();

    private static Task Press(IPage page, string button) =>
        page.GetByRole(AriaRole.Button, new() { Name = button, Exact = true }).ClickAsync();

    /// <summary>Asks for a plan, and waits until its page has turned into the outcome.</summary>
    private static async Task Ask(IPage page, string button, string outcome = "Work by this plan")
    {
        await page.GetByLabel("Look for how many seconds?").FillAsync("5");
        await Press(page, button);
        await Expect(page).ToHaveURLAsync(new Regex("/plans/"));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = outcome, Exact = true })).ToBeVisibleAsync();
    }
}
