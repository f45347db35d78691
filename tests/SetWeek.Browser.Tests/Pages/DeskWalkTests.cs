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
        await page.GetByLabel("Look for how many seconds?").FillAsync("2");
        await using (await site.HoldSearches())
        {
            await page.GetByRole(AriaRole.Button, new() { Name = "Ask for a plan" }).ClickAsync();
            await Look(visit, "A plan is being looked for");
        }
        for (var attempt = 0; attempt < 60 && await page.GetByText("There is no plan").CountAsync() == 0; attempt++)
        {
            await page.WaitForTimeoutAsync(500);
            await page.ReloadAsync();
        }
        await Look(visit, "Each of these makes a plan possible (proven)");

        await page.GotoAsync($"{week.Address}/what-if?was=[]&kind=kit&kit=forms&eta=2027-03-08T12:00");
        await page.GetByRole(AriaRole.Button, new() { Name = "Try these changes" }).ClickAsync();
        await Look(visit, "With these changes there is a plan");
        Assert.Empty(visit.Complaints);
    }

    private static async Task Look(Visit visit, string sentence)
    {
        await visit.Page.GetByText(sentence).First.WaitForAsync();
        foreach (var width in new[] { 360, 820, 1440 })
        {
            await visit.Page.SetViewportSizeAsync(width, 900);
            var faults = await Inspection.FaultsOf(visit.Page, isPhone: false);
            Assert.True(faults.Count == 0, $"{sentence} at {width}: {string.Join('\n', faults)}");
        }
    }
}
