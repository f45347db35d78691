using System.Text.Json.Nodes;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Service.Words;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// The states of a night and of the week's end that the demo's week is not in: who has a phone in hand, a night that is closed,
/// the week handed over, a night in which the clocks change.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class NightWalkTests(Site site)
{
    /// <summary>The wall is dressed in the night in which it is painted: until then it is half-secured.</summary>
    private static readonly string SameNight = FirstRain.Direction.Replace(
        """{"task": "wall.paint", "dryMinutes": 240}""", """{"task": "wall.paint", "sameNight": true}""");

    [BrowserFact]
    public async Task A_shared_phone_asks_who_has_it_in_hand()
    {
        var week = await StoreWeek.Small(site);
        await using var visit = await site.Open();
        await week.Enrol(visit.Page);
        await Inspection.Look(visit.Page, "No night is open", isPhone: true);
        week.MoveTo("2027-03-08T21:00");
        foreach (var person in new[] { "p1", "p2" })
            await FirstRain.ExpectStatus(204,
                week.Lead.Post($"/stores/{week.Store}/pin-permissions", $$"""{"person": "{{person}}"}"""));
        await visit.Page.GotoAsync("/phone");
        await visit.Page.GetByLabel("of Asha Rowan").FillAsync("4821");
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Set the PIN of Asha Rowan" }).ClickAsync();
        await visit.Page.GetByText("Go on as Asha Rowan").WaitForAsync();
        await Inspection.Look(visit.Page, "New PIN, 4 to 8 figures, of Ben Marsh", isPhone: true);
        Assert.Empty(visit.Complaints);
        await visit.Page.GetByLabel("PIN of Asha Rowan").FillAsync("0000");
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Go on as Asha Rowan" }).ClickAsync();
        await Inspection.Look(visit.Page, "This is not the PIN of that name.");
    }

    [BrowserFact]
    public async Task A_night_is_closed_with_something_half_secured()
    {
        var week = await StoreWeek.Open(site, SameNight, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        week.MoveTo("2027-03-08T23:50");
        const string night = "nights/monday";
        await Post(week, $"{night}/opening", """
            {"id": "o1", "at": "2027-03-08T20:00:00Z", "here": ["p1", "p2"], "firstAider": "p2", "said": ["exits", "first-aid"]}
            """);
        await Post(week, "work/finished",
            """{"id": "w1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T21:00:00Z"}""");
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await visit.Page.GotoAsync($"{week.Address}/{night}/closing");
        await visit.Page.GetByText("It stands, and its zone stays shut").First.ClickAsync();
        await visit.Page.GetByLabel("Not good").First.CheckAsync(); // asks for the reason
        await Inspection.Look(visit.Page, "Half-secured", isPhone: true);

        var closing = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/{night}/closing"))).Json;
        await Post(week, $"{night}/closing", new JsonObject
        {
            ["id"] = "c1", ["at"] = "2027-03-08T23:50:00Z", ["out"] = new JsonArray("p1", "p2"),
            ["answers"] = new JsonArray([.. closing["checks"]!.AsArray().Select(check => (bool)check!["isRequired"]!
                ? new JsonObject { ["check"] = (string)check["id"]!, ["answer"] = "good" }
                : new JsonObject { ["check"] = (string)check["id"]!, ["answer"] = "notGood", ["why"] = "The gate sticks." })]),
            ["halfSecured"] = new JsonArray([.. closing["halfSecured"]!.AsArray().Select(open =>
                new JsonObject { ["task"] = (string)open!["task"]!, ["decision"] = "shutOff" })]),
            ["why"] = "A rail stands before it.",
        }.ToJsonString());
        foreach (var (page, sentence, isPhone) in new[]
        {
            ("closing", "Customers are kept out of Show window.", true), ("opening", "Closed 23:50", true),
            ("sheet", "Closed 23:50", false),
        })
        {
            await visit.Page.GotoAsync($"{week.Address}/{night}/{page}");
            await Inspection.Look(visit.Page, sentence, isPhone);
        }
        Assert.Empty(visit.Complaints);
    }

    [BrowserFact]
    public async Task A_finished_week_is_looked_at_and_handed_over()
    {
        var week = await FinishedWeek.Of(site);
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await visit.Page.GotoAsync($"{week.Address}/walk-through");
        await Inspection.Look(visit.Page, "The one area is looked at", isPhone: true);
        await visit.Page.GotoAsync($"{week.Address}/hand-over");
        await Inspection.Look(visit.Page, "Accept with one thing open");
        await visit.Page.GetByLabel("Name, and what the person does").FillAsync("Hester Vane, runs the store");
        await visit.Page.GetByLabel("Note for the morning").FillAsync("The strings are on the left switch.");
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Accept with one thing open" }).ClickAsync();
        await Inspection.Look(visit.Page, "Hester Vane, runs the store accepted the week");
        Assert.Empty(visit.Complaints);
    }

    /// <summary>The clocks of the EU and of the United Kingdom change on the last Sunday of March, at 01:00 UTC.</summary>
    [BrowserFact]
    public async Task Of_a_night_in_which_the_clocks_change_each_page_says_so_and_of_a_usual_night_none()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction, Samples.Store(), FirstRain.Opening
            .Replace("2027-03-08T20:00", "2027-03-27T23:30").Replace("2027-03-09T00:00", "2027-03-28T04:00")
            .Replace("2027-03-09T20:00", "2027-03-28T20:00").Replace("2027-03-10T00:00", "2027-03-29T00:00")
            .Replace("2027-03-10T20:00", "2027-03-29T20:00").Replace("2027-03-11T00:00", "2027-03-30T00:00")
            .Replace("2027-03-12T09:00", "2027-03-31T09:00"));
        await week.PlanAndPublish();
        week.MoveTo("2027-03-28T00:10");
        await using var visit = await week.SignedIn("lena", Role.Lead);
        const string ofTheWeek = "The clocks change in this night.", ofTheNight = WeekLabels.ClocksChangeNote;
        // The pages of the week have three nights, of which one says it.
        foreach (var (page, sentence, night) in new[] { ("plan", ofTheWeek, "section#monday"), ("hours", ofTheNight, "section") })
        {
            await visit.Page.GotoAsync($"{week.Address}/{page}");
            await Inspection.Look(visit.Page, sentence);
            await Expect(visit.Page.Locator(night).First).ToContainTextAsync(sentence);
            await Expect(visit.Page.Locator(night).First).ToContainTextAsync("(+00:00)");
            await Expect(visit.Page.GetByText(sentence)).ToHaveCountAsync(1);
        }
        foreach (var (page, isPhone) in new[]
        {
            ("sheet", false), ("sheet?person=p1", true), ("opening", true), ("closing", true),
            ("pieces/{piece}?act=finish", true),
        })
        {
            string AddressOf(string night, string piece) =>
                $"{week.Address}/nights/{night}/{page.Replace("{piece}", piece, StringComparison.Ordinal)}";
            await visit.Page.GotoAsync(AddressOf("monday", "101"));
            await Inspection.Look(visit.Page, ofTheNight, isPhone);
            await Expect(visit.Page.Locator("main")).ToContainTextAsync("(+00:00)");
            var usual = await visit.Page.GotoAsync(AddressOf("tuesday", "201"));
            Assert.Equal(200, usual!.Status);
            await Expect(visit.Page.Locator("main")).Not.ToContainTextAsync("clocks change");
            await Expect(visit.Page.Locator("main")).Not.ToContainTextAsync("(+0");
        }
        Assert.Empty(visit.Complaints);
    }

    private static async Task Post(StoreWeek week, string address, string report)
    {
        var answer = await week.Lead.Post($"{week.Address}/{address}", report);
        Assert.True(answer.Status < 300, $"{address}: {answer.Text}");
    }
}
