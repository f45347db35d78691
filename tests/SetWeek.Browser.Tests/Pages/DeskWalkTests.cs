using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>The states of the lead's pages that the demo's week is not in: no plan yet, none possible, overtaken, tried.</summary>
[Collection(SiteCollection.Name)]
public sealed class DeskWalkTests(Site site)
{
    [BrowserFact]
    public async Task Each_state_of_a_plan_can_be_read_and_tapped_at_every_width()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction, Samples.Store(),
            FirstRain.Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null"));
        await using var visit = await week.SignedIn("lena", Role.Lead);
        var page = visit.Page;

        await page.GotoAsync($"{week.Address}/plan");
        await Look(visit, "No plan of this week is published yet.");
        await page.GetByLabel("Look for how many seconds?").FillAsync("10");
        await using (await site.HoldSearches())
        {
            await page.GetByRole(AriaRole.Button, new() { Name = "Ask for a plan" }).ClickAsync();
            await Look(visit, "A plan is being looked for");
        }
        // The page loads itself anew once the search has settled.
        await Look(visit, "Each of these makes a plan possible (proven)");

        await page.GotoAsync($"{week.Address}/what-if?was=[]&kind=kit&kit=forms&eta=2027-03-08T12:00");
        await page.GetByRole(AriaRole.Button, new() { Name = "Try these changes" }).ClickAsync();
        await Look(visit, "With these changes there is a plan");
        Assert.Empty(visit.Complaints);
    }

    /// <summary>What is empty says so on every page of the week, also where a person looks for their night.</summary>
    [BrowserFact]
    public async Task A_week_in_which_nothing_has_happened_can_be_read()
    {
        var week = await StoreWeek.SmallUnplanned(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await Each(lead, [.. new[] { "told", "crew", "kits", "snags", "questions", "memos", "history", "hand-over" }
            .Select(place => $"{week.Address}/{place}")]);
        await using var crew = await week.SignedIn("p1");
        await crew.Page.GotoAsync($"{week.Address}/tonight");
        await Inspection.Look(crew.Page, "No plan is published yet", isPhone: true);
        await crew.Page.GotoAsync($"{week.Address}/told/p1");
        await Inspection.Look(crew.Page, "Nothing is published yet");
        Assert.Empty(crew.Complaints);
    }

    [BrowserFact]
    public async Task A_chain_that_has_nothing_yet_can_be_read()
    {
        var chain = Site.NewChain();
        await using var head = await site.SignedIn(chain, "head", Role.HeadOffice);
        await Each(head, "/stores", "/questions", "/snags", "/memos", "/directions", "/webhooks");
        await using var engineer = await site.SignedIn(chain, "eva", Role.Engineer);
        await Each(engineer, "/feed", "/followers");
    }

    private static async Task Each(Visit visit, params string[] addresses)
    {
        foreach (var address in addresses)
        {
            var answer = await visit.Page.GotoAsync(address);
            Assert.True(answer!.Status == 200, $"{address}: {answer.Status}");
            await Inspection.Look(visit.Page, await visit.Page.Locator("h1").InnerTextAsync());
        }
        Assert.Empty(visit.Complaints);
    }

    private static Task Look(Visit visit, string sentence) => Inspection.Look(visit.Page, sentence);
}
