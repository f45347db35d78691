using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A night that is worked without a network on the pages that the phone has kept.</summary>
[Collection(SiteCollection.Name)]
public sealed class NightWorkTests(Site site)
{
    /// <summary>One person alone may do both pieces of Monday. Paint asks for the air handling before it begins.</summary>
    internal static readonly string TwoPieces = FirstRain.Direction
        .Replace("\"cautions\": [\"Air the room.\"]}", """
            "cautions": ["Air the room."], "traits": ["paint"]},
            {"id": "wall.lines", "name": "Draw the lines", "display": "wall", "zone": "window",
             "modes": [{"minutes": 30, "roles": [{"skill": "painting", "people": 1, "level": 2}]}],
             "checks": ["The lines are plumb."], "cautions": ["Keep the steps dry."],
             "after": [{"task": "wall.paint", "sameNight": true}]}
            """, StringComparison.Ordinal)
        .Replace("""{"skill": "painting", "people": 1}""", """{"skill": "painting", "people": 1, "level": 2}""",
            StringComparison.Ordinal);

    [BrowserFact]
    public async Task Two_pieces_are_begun_and_finished_in_order_and_arrive_with_the_phones_times()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");

        await Act(phone, "Start", "Sign and start");
        await Expect(phone.Waiting).ToHaveTextAsync(["Sign and start"]);
        await Offers(phone, "Paint the wall", "Finished");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Begun 20:55, not yet sent.");
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("Nothing is begun.");
        await phone.Look();
        await phone.Visit.Reopen(); // somebody closes the page
        await phone.OpenTonight();
        await Offers(phone, "Paint the wall", "Finished");

        await phone.SetTime("21:40");
        await Act(phone, "Finished", "Sign and finish");
        await Expect(phone.Waiting).ToHaveCountAsync(2);
        await Offers(phone, "Draw the lines", "Start");
        await Expect(phone.Page.Locator(".cautions:visible")).ToContainTextAsync("Keep the steps dry.");
        await Expect(phone.Page.Locator("[data-behind]")).ToContainTextAsync("Done 21:40, not yet sent.");
        await phone.Page.Leave(() => phone.Tap("Start")); // it asks for nothing before it begins
        await Expect(phone.Waiting).ToHaveCountAsync(3);
        await Offers(phone, "Draw the lines", "Finished");

        await phone.SetTime("22:10");
        await Act(phone, "Finished", "Sign and finish");
        await Expect(phone.Waiting).ToHaveCountAsync(4);
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("All your work is done");
        await Expect(phone.Page.Locator(".bar-acts")).ToHaveCountAsync(0);
        await phone.Look();
        Assert.Empty(await phone.Recorded());

        site.Clock.MoveTo("2027-03-08T22:30");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(
            ["work-started 20:55 by p1", "work-finished 21:40 by p1", "work-started 21:40 by p1", "work-finished 22:10 by p1"],
            await phone.Recorded());
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("not yet sent");
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync("All your work is done"); // also before it is loaded again
        await phone.OpenFresh($"{week.Address}/tonight");
        await Expect(phone.Page.Locator("[data-behind]")).ToContainTextAsync("Done 20:55–21:40.");
    }

    [BrowserFact]
    public async Task The_page_of_an_act_that_is_entered_leads_on()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await Act(phone, "Start", "Sign and start");
        await Expect(phone.Waiting).ToHaveCountAsync(1);
        await phone.Page.GotoAsync($"{week.Address}/nights/monday/pieces/{await PaintOf(week)}?act=start");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Begun 20:55, not yet sent.");
        await Expect(phone.Page.GetByRole(AriaRole.Button, new() { Name = "Sign and start" })).ToHaveCountAsync(0);
        await phone.Page.GetByRole(AriaRole.Link, new() { Name = "Finished" }).ClickAsync();
        await Expect(phone.Page.GetByRole(AriaRole.Button, new() { Name = "Sign and finish" })).ToBeVisibleAsync();
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("No start is reported.");
    }

    /// <summary>The page of an act is kept before the act is offered, so it asks the same in each state of the piece.</summary>
    [BrowserFact]
    public async Task A_piece_that_is_begun_without_a_network_is_interrupted_and_goes_on_there_too()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await Act(phone, "Start", "Sign and start");
        await Offers(phone, "Paint the wall", "Finished");
        await phone.SetTime("21:10");
        await Act(phone, "Interrupted", "Interrupted: it waits");
        await Offers(phone, "Paint the wall", "Go on");
        await phone.SetTime("21:20");
        await phone.Page.Leave(() => phone.Tap("Go on"));
        await Offers(phone, "Paint the wall", "Finished");
        site.Clock.MoveTo("2027-03-08T21:30");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-started 20:55 by p1", "work-paused 21:10 by p1", "work-resumed 21:20 by p1"], await phone.Recorded());
    }

    /// <summary>Once a report is sent, the copies are taken anew. What only the newer copy offers opens all the same.</summary>
    [BrowserTheory]
    [InlineData("paused", "Go on", "resumed")]
    [InlineData("finished", "Open it again", "reopened")]
    public async Task What_a_copy_offers_that_nobody_has_opened_is_kept_too(string report, string act, string page)
    {
        var week = await Published(site);
        await ReportPaint(week, "started", "20:40");
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        var (sheet, number) = (phone.AddressOf("nights/monday/sheet"), await PaintOf(week));
        await phone.Page.GotoAsync(sheet);
        await phone.UntilKept(phone.AddressOf($"nights/monday/pieces/{number}?act={page}"));
        await phone.Page.GotoAsync(phone.AddressOf("kits/forms"));
        await ReportPaint(week, report, "20:50");
        await phone.Report("started", "wall.lines", "Started");
        await phone.Until("""
            async ([sheet, act]) => (await (await caches.match(new URL(sheet, location.href).href)).text()).includes(act)
            """, new[] { sheet, $"?act={page}" });
        await phone.SetOffline(true);
        await phone.Page.GotoAsync(sheet);
        await phone.Page.Leave(() => phone.Page.Locator($"#n{number}").GetByRole(AriaRole.Link, new() { Name = act }).ClickAsync());
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync($"{act}?");
        await phone.Tap(act);
        await Expect(phone.Waiting).ToHaveTextAsync([act]);
    }

    [BrowserFact]
    public async Task After_not_safe_nothing_starts_there_before_it_is_sent_too()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await phone.Page.Leave(() => phone.Page.Locator(".bar-acts").GetByText("Not safe", new() { Exact = true }).ClickAsync());
        await phone.Page.Leave(() => phone.Tap("Stop the work"));
        await Expect(phone.Waiting).ToHaveTextAsync(["Stop the work"]);
        await Expect(phone.Page.Locator(".piece")).ToContainTextAsync("Stopped 20:55, not yet sent: nothing starts here");
        await phone.Look();
        await Expect(phone.Page.GetByRole(AriaRole.Link, new() { Name = "Start", Exact = true })).ToHaveCountAsync(0);
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-stopped 20:55 by p1"], await phone.Recorded());
        await phone.OpenFresh($"{week.Address}/tonight");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Stopped since 20:55");
    }

    [BrowserFact]
    public async Task Whoever_has_no_piece_stops_a_place_without_a_network()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week, "sam"); // lent by another store
        await phone.OpenTonight();
        await phone.UntilKept(phone.AddressOf("nights/monday/sheet?view=not-safe"));
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await phone.Page.Leave(() => phone.Page.GetByRole(AriaRole.Link, new() { Name = "Stop a place for everybody" }).ClickAsync());
        await phone.Page.GetByLabel("Show window").CheckAsync();
        await phone.Page.Leave(() => phone.Tap("Stop the work"));
        await Expect(phone.Waiting).ToHaveTextAsync(["Stop the work"]);
        await Expect(phone.Page.GetByRole(AriaRole.Region, new() { Name = "The order" }))
            .ToContainTextAsync("Stopped 20:55, not yet sent: nothing starts here");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-stopped 20:55 by sam"], await phone.Recorded());
    }

    [BrowserFact]
    public async Task A_start_whose_gate_is_not_good_begins_nothing_and_is_refused_later()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await Act(phone, "Start", "Sign and start", "Not good");
        await Expect(phone.Page.Locator(".piece")).ToContainTextAsync("Not good 20:55, not yet sent.");
        await Offers(phone, "Paint the wall", "Start");
        await phone.SetOffline(false);
        await Expect(phone.Refused).ToContainTextAsync("does not begin, because this is not so");
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("not yet sent");
        await Offers(phone, "Paint the wall", "Start");
        Assert.Empty(await phone.Recorded());
    }

    [BrowserFact]
    public async Task What_others_entered_meanwhile_is_shown_once_everything_is_sent()
    {
        var week = await Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/work/stopped",
            """{"id": "s1", "at": "2027-03-08T20:50:00Z", "night": "monday", "zone": "window"}"""));
        await Act(phone, "Start", "Sign and start");
        await Offers(phone, "Paint the wall", "Finished");
        await phone.SetOffline(false);
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Stopped since 20:50");
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-stopped 20:50 by lena", "work-started 20:55 by p1"], await phone.Recorded());
    }

    internal static async Task<StoreWeek> Published(Site site)
    {
        var week = await StoreWeek.Open(site, TwoPieces, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        return week;
    }

    private static async Task<int> PaintOf(StoreWeek week) =>
        (int)(await week.Lead.Get($"{week.Address}/nights/monday/sheet")).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!["number"]!;

    /// <summary>An interruption does not name its night.</summary>
    private static Task ReportPaint(StoreWeek week, string report, string time)
    {
        var night = report == "paused" ? "" : "\"night\": \"monday\", ";
        return FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/work/{report}",
            $$"""{"id": "{{report}}", "task": "wall.paint", {{night}}"at": "2027-03-08T{{time}}:00Z"}"""));
    }

    /// <summary>Follows the act at the bottom of the page, answers every gate or check alike, and signs.</summary>
    internal static async Task Act(NightPhone phone, string act, string sign, string answer = "Good")
    {
        await phone.Page.Leave(() => phone.Page.Locator(".bar-acts")
            .GetByRole(AriaRole.Link, new() { Name = act, Exact = true }).ClickAsync());
        var button = phone.Page.GetByRole(AriaRole.Button, new() { Name = sign });
        await Expect(button).ToBeVisibleAsync();
        foreach (var choice in await phone.Page.GetByRole(AriaRole.Radio, new() { Name = answer, Exact = true }).AllAsync())
            await choice.CheckAsync();
        await phone.Page.Leave(() => button.ClickAsync());
        await phone.Page.WaitForURLAsync(address => address.Contains("/sheet", StringComparison.Ordinal));
    }

    private static async Task Offers(NightPhone phone, string piece, string act)
    {
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync(piece);
        await Expect(phone.Page.Locator(".bar-acts .do:visible")).ToHaveTextAsync(act);
    }
}
