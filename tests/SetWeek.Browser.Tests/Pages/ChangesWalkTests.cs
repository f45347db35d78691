using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// A kit comes late: the published plan no longer holds, the lead compares new plans with it, accepts one and records who was
/// told; and what becomes of plans that are not accepted.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class ChangesWalkTests(Site site)
{
    [BrowserFact]
    public async Task A_lead_compares_accepts_and_tells_at_every_width()
    {
        var week = await StoreWeek.Small(site);
        await KitComesLate(week);
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await Opens(visit, $"{week.Address}/plan", "This plan no longer holds.");
        await Opens(visit, $"{week.Address}/plans/{(await week.Ask())["id"]}/changes", "What would change");
        await visit.Page.Leave(() => visit.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Accept ") }).First.ClickAsync());
        Assert.Equal("Issue 2 is the store’s plan", await visit.Page.InnerTextAsync("h1"));

        await visit.Page.Locator("main summary").First.ClickAsync();
        await visit.Page.GetByLabel("I called").First.CheckAsync();
        await visit.Page.Leave(() => visit.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^I told ") }).First.ClickAsync());
        await visit.Page.Locator("main summary").First.ClickAsync();
        await Inspection.Look(visit.Page, "on the telephone, by lena");
        var told = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/told"))).Json;
        var person = (string)told["people"]![0]!["person"]!;
        await Opens(visit, $"{week.Address}/told?issue=1", "Issue 1 was replaced");
        Assert.Empty(visit.Complaints);

        await using var crew = await week.SignedIn(person);
        await Opens(crew, $"{week.Address}/nights/tuesday/sheet?person={person}", "See what changes", isPhone: true);
        await Opens(crew, $"{week.Address}/told/{person}", "Not answered yet.", isPhone: true);
        await crew.Page.Leave(() => crew.Page.GetByRole(AriaRole.Button).First.ClickAsync());
        await crew.Page.GetByText("Not answered yet.").WaitForAsync(new() { State = WaitForSelectorState.Detached });
        await Inspection.Look(crew.Page, "Your answer", isPhone: true);
        Assert.Empty(crew.Complaints);
    }

    [BrowserFact]
    public async Task A_plan_is_chosen_among_options_overtaken_cancelled_or_never_found()
    {
        var week = await StoreWeek.Open(site, FirstRain.WithBanner, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        await KitComesLate(week);
        week.MoveTo("2027-03-07T12:00");
        var plan = (string)(await week.Ask())["id"]!;
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await Opens(visit, $"{week.Address}/plans/{plan}", "The options to choose from");
        await Opens(visit, $"{week.Address}/plans/{plan}/changes", "What would change");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        await Opens(visit, $"{week.Address}/plans/{plan}", "Overtaken.");
        await using (await site.HoldSearches())
        {
            var first = (await FirstRain.ExpectStatus(202, week.Lead.Post($"{week.Address}/plans", "{}"))).Location!;
            var second = (await FirstRain.ExpectStatus(202, week.Lead.Post($"{week.Address}/plans", "{}"))).Location!;
            await Opens(visit, first, "This request was cancelled");
            await site.FailPlan(week.Chain, second.Split('/')[^1]);
            await Opens(visit, second, "The search has failed");
        }
        Assert.Empty(visit.Complaints);
    }

    private static Task KitComesLate(StoreWeek week) => FirstRain.ExpectStatus(204,
        week.Lead.Post($"{week.Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));

    private static async Task Opens(Visit visit, string address, string sentence, bool isPhone = false)
    {
        await visit.Page.GotoAsync(address);
        await Inspection.Look(visit.Page, sentence, isPhone);
    }
}
