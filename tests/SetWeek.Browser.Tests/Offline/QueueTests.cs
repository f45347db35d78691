using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>What is entered on a phone reaches the service once, in its order, also if the network is away meanwhile.</summary>
[Collection(SiteCollection.Name)]
public sealed class QueueTests(Site site)
{
    [BrowserFact]
    public async Task A_report_entered_with_a_connection_is_sent_at_once_and_the_page_shown_again()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.Report("started", "wall.paint", "Started");
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
        Assert.Empty(phone.Visit.Complaints);
    }

    [BrowserFact]
    public async Task Two_phones_work_a_night_and_one_is_offline_and_closes_its_page()
    {
        var week = await StoreWeek.Small(site);
        await using var away = await NightPhone.SignedIn(site, week);
        await using var connected = await NightPhone.SignedIn(site, week, "p2");
        await away.OpenSheet();
        await connected.OpenSheet();
        await away.SetOffline(true);
        await away.Report("started", "wall.paint", "Started");
        await Expect(away.Status).ToContainTextAsync("No connection. One report waits on this phone.");
        await away.Visit.Context.Clock.SetSystemTimeAsync("2027-03-08T21:40:00Z");
        await away.Report("finished", "wall.paint", "Finished");
        await Expect(away.Status).ToContainTextAsync("Two reports wait on this phone.");
        await connected.Report("started", "wall.paint", "Started"); // the same work, from the other phone

        await away.Visit.Reopen();
        await away.OpenSheet(untilKept: false);
        await Expect(away.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
        await Expect(away.Waiting).ToHaveTextAsync(["Started", "Finished"]);
        await away.Look(); // a kept copy, and two reports that wait
        Assert.Equal(["work-started 20:55 by p2"], await away.Recorded());

        site.Clock.MoveTo("2027-03-08T21:45");
        await away.SetOffline(false);
        await Expect(away.Status).ToContainTextAsync("All sent.");
        await Expect(away.Waiting).ToHaveCountAsync(0);
        Assert.Equal(["work-started 20:55 by p2", "work-started 20:55 by p1", "work-finished 21:40 by p1"],
            await away.Recorded());
        await away.Visit.Reopen();
        await away.OpenSheet();
        Assert.Equal(3, (await away.Recorded()).Count); // nothing is sent again
    }

    [BrowserFact]
    public async Task Reports_wait_while_the_session_is_over_and_go_in_no_other_persons()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.Report("started", "wall.paint", "Started");
        await Expect(phone.Status).ToContainTextAsync("One report waits");
        await site.EndSessions(week.Chain, "p1");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("Your session is over. Nothing is lost: sign in again, then they go.");
        await phone.Look();

        await phone.SignIn("p2");
        await Expect(phone.Status).ToContainTextAsync("One report of somebody else waits here.");
        await phone.OpenSheet();
        await Expect(phone.Status).ToContainTextAsync("One report of somebody else waits here.");
        await phone.Look();
        await Expect(phone.Waiting).ToHaveCountAsync(0); // nobody else reads it
        Assert.Empty(await phone.Recorded());

        await phone.SignIn("p1");
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    [BrowserFact]
    public async Task A_page_of_one_person_sends_nothing_in_the_session_of_another()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await using (var second = new Visit(site, await phone.Visit.Context.NewPageAsync(), ownsContext: false))
            await second.SignIn(week.Chain, "p2", Service.Access.Role.Crew, week.Store);
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.Tap("Started");
        await Expect(phone.Status).ToContainTextAsync("Somebody else is signed in now. They go when you sign in again.");
        Assert.Empty(await phone.Recorded());
    }

    [BrowserFact]
    public async Task A_refused_report_says_why_and_stays_until_it_is_read()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.Report("started", "ghost", "Started");
        await Expect(phone.Waiting).ToHaveCountAsync(1); // the page is there with its scripts
        await phone.Report("started", "wall.paint", "Started the wall");
        await Expect(phone.Waiting).ToHaveCountAsync(2);
        await phone.Page.Leave(() => phone.SetOffline(false)); // once all is sent, a kept copy loads itself anew
        await Expect(phone.Refused).ToContainTextAsync("ghost");
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded()); // the one after it is sent all the same
        await phone.OpenFresh(phone.Page.Url);
        await Expect(phone.Refused).ToContainTextAsync("ghost");
        await phone.Look();
        await phone.Tap("Take it off this list");
        await Expect(phone.Refused).ToHaveCountAsync(0);
        await phone.Page.ReloadAsync();
        await Expect(phone.Status).ToBeEmptyAsync();
    }

    /// <summary>Asha counts a damaged piece and forgets to say how many.</summary>
    [BrowserFact]
    public async Task A_refused_report_is_mended_in_its_form_and_keeps_its_time()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.Page.GotoAsync(phone.AddressOf("kits/forms"));
        await phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Damaged" }).CheckAsync();
        await phone.Page.GetByLabel("How many came, if fewer").FillAsync("3");
        await phone.Tap("Sign the count");
        await Expect(phone.Refused).ToContainTextAsync("Say how many pieces are damaged.");

        await phone.SetTime("21:00");
        await phone.Page.GotoAsync(phone.AddressOf("tonight"));
        await phone.Refused.GetByRole(AriaRole.Link, new() { Name = "Mend it" }).ClickAsync();
        await Expect(phone.Page.GetByRole(AriaRole.Radio, new() { Name = "Damaged" })).ToBeCheckedAsync();
        await Expect(phone.Page.GetByLabel("How many came, if fewer")).ToHaveValueAsync("3");
        await phone.Look();
        await phone.Page.GetByLabel("How many of them damaged").FillAsync("1");
        await phone.Tap("Sign the count");
        await Expect(phone.Refused).ToHaveCountAsync(0);
        await Expect(phone.Page.Locator(".so").First).ToHaveTextAsync("Counted: 2 good, 1 damaged, 1 missing.");
        Assert.Equal(["kit-arrived 20:55 by p1"], await phone.Recorded("kit-arrived"));
        var line = (await week.Lead.Get($"{week.Address}/kits/forms")).Json["lines"]![0]!;
        Assert.Equal((3, 1), ((int)line["received"]!, (int)line["damaged"]!));
    }

    [BrowserFact]
    public async Task Of_several_reports_in_one_form_a_refused_one_says_why()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        var fields = new Dictionary<string, string>();
        foreach (var (row, task) in new[] { "wall.paint", "ghost" }.Index())
        {
            fields[$"reports[{row}].kind"] = "started";
            fields[$"reports[{row}].id"] = $"made-by-the-page-{row}";
            fields[$"reports[{row}].task"] = task;
            fields[$"reports[{row}].night"] = "monday";
            fields[$"reports[{row}].at"] = NightPhone.Now;
        }
        await phone.AddForm("reports", "Record these times", fields);
        await phone.Tap("Record these times");
        await Expect(phone.Refused).ToContainTextAsync("ghost");
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    [BrowserFact]
    public async Task An_answer_that_never_arrived_is_asked_for_again_without_a_second_report()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        var asked = 0;
        await phone.Page.RouteAsync("**/work/started", async route =>
        {
            if (asked++ > 0)
            {
                await route.ContinueAsync();
                return;
            }
            await route.FetchAsync(); // the service takes it
            await route.AbortAsync();
        });
        await phone.Report("started", "wall.paint", "Started");
        await Expect(phone.Status).ToContainTextAsync("All sent."); // by the page after
        Assert.Equal(2, asked);
        Assert.Single(await phone.Recorded());
    }

    [BrowserFact]
    public async Task A_browser_that_keeps_nothing_says_so_and_sends_the_form_as_without_script()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.Page.AddInitScriptAsync("indexedDB.open = () => { throw new DOMException('', 'QuotaExceededError'); };");
        await phone.OpenSheet();
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.Page.EvaluateAsync("""
            async () => document.querySelector('[name=":token"]').value = (await (await fetch('/session')).json()).formToken
            """);
        await phone.Tap("Started");
        await Expect(phone.Status).ToContainTextAsync("This phone cannot keep reports (QuotaExceededError).");
        await Expect(phone.Page.Locator("main form")).ToHaveCountAsync(0); // another page
        Assert.Equal(["work-started 21:00 by p1"], await phone.Recorded()); // the time of receipt
    }

    [BrowserFact]
    public async Task The_keyboard_reports_and_tries_again()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.Visit.PressByKeyboard("Started");
        await phone.IsLoadedAgain();
        await Expect(phone.Status).ToContainTextAsync("One report waits");
        await phone.Visit.PressByKeyboard("Try now");
        await Expect(phone.Status).ToContainTextAsync("One report waits");
        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
    }
}
