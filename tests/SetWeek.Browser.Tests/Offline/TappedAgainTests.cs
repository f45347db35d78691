using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A form that is tapped again within a minute: one report if it was a slip, two if something lies between.</summary>
[Collection(SiteCollection.Name)]
public sealed class TappedAgainTests(Site site)
{
    private static readonly string WallMustBeShown = FirstRain.Direction.Replace(
        "\"name\": \"Painted wall\", ", "\"name\": \"Painted wall\", \"mustBeShown\": true, ", StringComparison.Ordinal);

    [BrowserTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Two_taps_of_one_act_are_one_report(bool isOffline)
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(isOffline);
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.Button("Started").DblClickAsync();
        await phone.IsLoadedAgain();
        if (isOffline)
        {
            await Expect(phone.Status).ToContainTextAsync("One report waits");
            await phone.SetOffline(false);
            await Expect(phone.Status).ToContainTextAsync("All sent.");
        }
        await phone.UntilNothingWaits();
        Assert.Single(await phone.Recorded());
    }

    /// <summary>Nobody has shown the wall to Asha. Her start is refused, the lead shows it to her, and she taps again.</summary>
    [BrowserFact]
    public async Task What_was_refused_goes_once_its_cause_is_put_right()
    {
        var week = await StoreWeek.Open(site, WallMustBeShown, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.AddForm("work/started", "Started", new Dictionary<string, string>
        {
            ["id"] = "made-by-the-page", ["at:now"] = "", ["task"] = "wall.paint", ["night"] = "monday", ["people:list"] = "p1",
        });
        await phone.Tap("Started");
        await Expect(phone.Refused).ToContainTextAsync("it was not shown to the person who begins");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/displays/wall/shown",
            """{"id": "s1", "at": "2027-03-08T20:50:00Z", "shownBy": "lena", "to": ["p1"]}"""));

        await phone.SetClock();
        await phone.Tap("Started");
        await phone.IsLoadedAgain();
        await Expect(phone.Refused).ToHaveCountAsync(0);
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    /// <summary>The lead enters two times. The start is refused, and sent again once its cause is put right.</summary>
    [BrowserFact]
    public async Task Of_several_reports_in_one_form_only_the_refused_one_goes_again()
    {
        var week = await StoreWeek.Open(site, WallMustBeShown, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        await phone.Page.GotoAsync(phone.AddressOf("nights/monday/sheet?view=record"));
        var (begun, ended) = (phone.Page.GetByLabel("Paint the wall").First, phone.Page.GetByLabel("Paint the wall").Last);
        await begun.FillAsync("20:05");
        await ended.FillAsync("20:50");
        await phone.Tap("Record these times");
        await Expect(phone.Refused).ToContainTextAsync("it was not shown to the person who begins");
        await Expect(begun).ToHaveValueAsync("20:05");
        await Expect(ended).ToBeEmptyAsync();
        Assert.Equal(["work-finished 20:50 by lena"], await phone.Recorded());
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/displays/wall/shown",
            """{"id": "s1", "at": "2027-03-08T20:00:00Z", "shownBy": "lena", "to": ["p1", "p2"]}"""));

        await phone.Page.Leave(() => phone.Tap("Record these times"));
        await Expect(phone.Refused).ToHaveCountAsync(0);
        Assert.Equal(["work-finished 20:50 by lena", "work-started 20:05 by lena"], await phone.Recorded());
    }

    /// <summary>The clock of the phone was wrong, and is put right between two reports.</summary>
    [BrowserFact]
    public async Task After_the_clock_is_set_back_an_equal_report_is_another_one()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.Report("resumed", "wall.paint", "Go on");
        await Expect(phone.Waiting).ToHaveCountAsync(1); // the page is there with its scripts
        await phone.SetTime("20:25");
        await phone.Report("resumed", "wall.paint", "Go on");
        await Expect(phone.Waiting).ToHaveTextAsync(["Go on", "Go on"]);
    }

    [BrowserFact]
    public async Task The_same_words_with_another_photograph_are_another_snag()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.Page.GotoAsync(phone.AddressOf("snags/new"));
        await phone.UntilKept(phone.Page.Url);
        await phone.SetOffline(true);
        var what = phone.Page.GetByLabel("What", new() { Exact = true });
        foreach (var width in new[] { 300, 400 })
        {
            await phone.Page.FillInSnag(width: width);
            await phone.Tap("Keep the snag");
            await Expect(what).ToHaveValueAsync(""); // the form of the next snag
        }
        await Expect(phone.Waiting).ToHaveCountAsync(2);
    }

    [BrowserFact]
    public async Task The_same_form_of_two_people_is_two_reports()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.Report("started", "wall.paint", "Started");
        await site.EndSessions(week.Chain, "p1");
        await phone.SetOffline(false);
        await phone.SignIn("p2");
        await phone.OpenSheet();
        await phone.SetClock();
        await phone.Report("started", "wall.paint", "Started");
        Assert.Equal(["work-started 20:55 by p2"], await phone.Recorded());
        await Expect(phone.Status).ToContainTextAsync("One report of somebody else waits here.");
    }
}
