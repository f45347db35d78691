using Microsoft.Playwright;
using SetWeek.Browser.Tests.Pages;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Walks;

/// <summary>The states of a lead's pages that the demo's week is not in: changes without a plan, what is held, forms refused.</summary>
[Collection(SiteCollection.Name)]
public sealed class LeadWalkTests(Site site)
{
    private const string Kept = "Nothing has been kept yet.";

    [BrowserFact]
    public async Task Changes_are_tried_without_a_plan_and_work_is_held()
    {
        var unplanned = await StoreWeek.SmallUnplanned(site);
        await using var early = await unplanned.SignedIn("lena", Role.Lead);
        await early.Opens($"{unplanned.Address}/what-if?was=[]&kind=kit&kit=forms&eta=2027-03-20T12:00", "What if?");
        await early.Press("Try these changes");
        await Inspection.Look(early.Page, "Why there is no plan");
        early.ComplainsOnlyOf();

        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var work = week.Work[0];
        await lead.Page.GotoAsync($"{week.Address}/plan/why/{work.Task}");
        await lead.Press("Hold it here");
        await lead.Opens($"{week.Address}/plan/why/{work.Task}", "Held:");
        await FirstRain.ExpectStatus(201, week.Lead.Post($"{week.Address}/pins",
            """{"person": "p3", "night": "monday", "off": true}""", ("If-Match", await week.ETag())));
        await lead.Opens($"{week.Address}/facts/pins", "Let it go");
        lead.ComplainsOnlyOf();
    }

    [BrowserFact]
    public async Task Forms_of_a_desk_that_are_refused_are_shown_again()
    {
        var week = await StoreWeek.Small(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Page.GotoAsync($"{week.Address}/facts/zones/window");
        await lead.Page.Locator("[name='maxPeople:number']").FillAsync("7"); // so that the page does not load itself again
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        await lead.Press("Keep these for this week");
        await Inspection.Look(lead.Page, Kept);
        lead.ComplainsOnlyOf(412);

        await lead.Page.GotoAsync($"/stores/{week.Store}/new-week?direction=first-rain&launch=2027-04-10T09:00&nights=3"
            + "&opens=21:30&closes=02:00&rules=last");
        await lead.Page.Locator("[name=currency]").FillAsync("pounds");
        await lead.Press("Open this week");
        await Inspection.Look(lead.Page, Kept);
        lead.ComplainsOnlyOf(412, 400);
    }

    /// <summary>They are sent as a browser without script does.</summary>
    [BrowserFact]
    public async Task Forms_of_the_floor_that_are_refused_are_shown_again()
    {
        var week = await StoreWeek.Small(site);
        week.MoveTo("2027-03-08T20:05");
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var page = lead.Page;
        await page.GotoAsync($"{week.Address}/nights/monday/opening");
        await Send(page, "opening");
        await Inspection.Look(page, Kept, isPhone: true);

        await page.GotoAsync($"{week.Address}/kits/forms");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Damaged" }).CheckAsync();
        await Send(page, "arrived");
        await Inspection.Look(page, Kept, isPhone: true);

        var night = $"{week.Address}/nights/{week.Work.Single(work => work.Task == "wall.paint").Night}";
        var sheet = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{night}/sheet"))).Json;
        var paint = sheet["pieces"]!.AsArray().Single(piece => (string?)piece!["task"] == "wall.paint")!;
        await page.GotoAsync($"{night}/pieces/{paint["number"]}?act=finish");
        await page.GetByLabel("Does not apply").First.CheckAsync();
        await Send(page, "work/finished");
        await Inspection.Look(page, Kept, isPhone: true);
        lead.ComplainsOnlyOf(400, 409);
    }

    [BrowserFact]
    public async Task The_phones_of_a_store_are_listed()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await site.Open();
        await week.Enrol(phone.Page);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Opens($"/stores/{week.Store}/phones", "One phone is enrolled.");
        lead.ComplainsOnlyOf();
    }

    /// <summary>Sends the form whose address ends so, past the page's script.</summary>
    private static Task Send(IPage page, string address) =>
        page.EvalOnSelectorAsync($"form[action$='/{address}']", "form => form.submit()");
}
