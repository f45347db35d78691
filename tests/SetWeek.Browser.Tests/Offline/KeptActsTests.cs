using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>The pages of acts open without a network, also of acts that were not offered yet when the phone had one.</summary>
[Collection(SiteCollection.Name)]
public sealed class KeptActsTests(Site site)
{
    [BrowserFact]
    public async Task The_page_of_an_act_that_is_entered_leads_on()
    {
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonightOffline();
        await phone.Act("Start", "Sign and start");
        await Expect(phone.Waiting).ToHaveCountAsync(1);
        await phone.Page.GotoAsync($"{week.Address}/nights/monday/pieces/{await TwoPieces.PaintOf(week)}?act=start");
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
        await using var phone = await PaintingOffline();
        await phone.Act("Interrupted", "Interrupted: it waits");
        await phone.Offers("Paint the wall", "Go on");
        await phone.SetTime("21:20");
        await phone.Page.Leave(() => phone.Tap("Go on"));
        await phone.Offers("Paint the wall", "Finished");
        site.Clock.MoveTo("2027-03-08T21:30");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-started 20:55 by p1", "work-paused 21:10 by p1", "work-resumed 21:20 by p1"], await phone.Recorded());
    }

    [BrowserFact]
    public async Task More_time_is_asked_for_a_piece_that_is_begun_without_a_network()
    {
        await using var phone = await PaintingOffline();
        await phone.Page.Leave(() => phone.Page.Locator(".bar-acts")
            .GetByRole(AriaRole.Link, new() { Name = "More time", Exact = true }).ClickAsync());
        await phone.Page.GetByLabel("Minutes of work left from now").FillAsync("45");
        await phone.Look();
        await phone.Page.Leave(() => phone.Tap("Tell the lead"));
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("More time asked for 21:10, not yet sent.");
        await phone.Offers("Paint the wall", "Finished");
        site.Clock.MoveTo("2027-03-08T21:30");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-started 20:55 by p1", "work-progressed 21:10 by p1"], await phone.Recorded());
    }

    /// <summary>Once a report is sent, the copies are taken anew. What only the newer copy offers opens all the same.</summary>
    [BrowserTheory]
    [InlineData("paused", "Go on", "resumed")]
    [InlineData("finished", "Open it again", "reopened")]
    public async Task What_a_copy_offers_that_nobody_has_opened_is_kept_too(string report, string act, string page)
    {
        var week = await TwoPieces.Published(site);
        await ReportPaint(week, "started", "20:40");
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        var (sheet, number) = (phone.AddressOf("nights/monday/sheet"), await TwoPieces.PaintOf(week));
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

    /// <summary>A phone without a network on which painting began at 20:55. It is 21:10.</summary>
    private async Task<NightPhone> PaintingOffline()
    {
        var phone = await NightPhone.SignedIn(site, await TwoPieces.Published(site));
        await phone.OpenTonightOffline();
        await phone.Act("Start", "Sign and start");
        await phone.Offers("Paint the wall", "Finished");
        await phone.SetTime("21:10");
        return phone;
    }

    /// <summary>An interruption does not name its night.</summary>
    private static Task ReportPaint(StoreWeek week, string report, string time)
    {
        var night = report == "paused" ? "" : "\"night\": \"monday\", ";
        return FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/work/{report}",
            $$"""{"id": "{{report}}", "task": "wall.paint", {{night}}"at": "2027-03-08T{{time}}:00Z"}"""));
    }
}
