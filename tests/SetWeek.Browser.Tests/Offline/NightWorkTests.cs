using Microsoft.Playwright;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A night that is worked without a network on the pages that the phone has kept.</summary>
[Collection(SiteCollection.Name)]
public sealed class NightWorkTests(Site site)
{
    [BrowserFact]
    public async Task Two_pieces_are_begun_and_finished_in_order_and_arrive_with_the_phones_times()
    {
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonightOffline();
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");

        await phone.Act("Start", "Sign and start");
        await Expect(phone.Waiting).ToHaveTextAsync(["Sign and start"]);
        await phone.Offers("Paint the wall", "Finished");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Begun 20:55, not yet sent.");
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("Nothing is begun.");
        await phone.Look();
        await phone.Visit.Reopen(); // somebody closes the page
        await phone.OpenTonight();
        await phone.Offers("Paint the wall", "Finished");

        await phone.SetTime("21:40");
        await phone.Act("Finished", "Sign and finish");
        await Expect(phone.Waiting).ToHaveCountAsync(2);
        await phone.Offers("Draw the lines", "Start");
        await Expect(phone.Page.Locator(".cautions:visible")).ToContainTextAsync("Keep the steps dry.");
        await Expect(phone.Page.Locator("[data-behind]")).ToContainTextAsync("Done 21:40, not yet sent.");
        await phone.Page.Leave(() => phone.Tap("Start")); // it asks for nothing before it begins
        await Expect(phone.Waiting).ToHaveCountAsync(3);
        await phone.Offers("Draw the lines", "Finished");

        await phone.SetTime("22:10");
        await phone.Act("Finished", "Sign and finish");
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
    public async Task After_not_safe_nothing_starts_there_before_it_is_sent_too()
    {
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonightOffline();
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
        var week = await TwoPieces.Published(site);
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
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonightOffline();
        await phone.Act("Start", "Sign and start", "Not good");
        await Expect(phone.Page.Locator(".piece")).ToContainTextAsync("Not good 20:55, not yet sent.");
        await phone.Offers("Paint the wall", "Start");
        await phone.SetOffline(false);
        await Expect(phone.Refused).ToContainTextAsync("does not begin, because this is not so");
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync("not yet sent");
        await phone.Offers("Paint the wall", "Start");
        Assert.Empty(await phone.Recorded());
    }

    [BrowserFact]
    public async Task What_others_entered_meanwhile_is_shown_once_everything_is_sent()
    {
        var week = await TwoPieces.Published(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenTonightOffline();
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/work/stopped",
            """{"id": "s1", "at": "2027-03-08T20:50:00Z", "night": "monday", "zone": "window"}"""));
        await phone.Act("Start", "Sign and start");
        await phone.Offers("Paint the wall", "Finished");
        await phone.SetOffline(false);
        await Expect(phone.Page.Locator("main")).ToContainTextAsync("Stopped since 20:50");
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-stopped 20:50 by lena", "work-started 20:55 by p1"], await phone.Recorded());
    }
}
