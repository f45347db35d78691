using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>
/// A report leaves the phone only when the service has taken or refused it. Other answers are neither: it arrives later, once.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class AnswerTests(Site site)
{
    private const string Started = "**/work/started";

    [BrowserTheory]
    [InlineData(200)]
    [InlineData(403)]
    public async Task A_network_that_wants_a_sign_in_of_its_own_has_not_taken_a_report(int status) =>
        await Arrives(new() { Status = status, ContentType = "text/html", Body = "<h1>Welcome to the free network</h1>" },
            "No connection. One report waits on this phone.");

    [BrowserFact]
    public async Task A_report_that_is_still_under_way_is_not_refused() =>
        await Arrives(Problem(409, "still-under-way"), "The service cannot take them now. One report waits on this phone.");

    [BrowserFact]
    public async Task A_service_that_is_away_has_not_refused_a_report() =>
        await Arrives(new() { Status = 503, ContentType = "text/html", Body = "<h1>Back soon</h1>" },
            "The service cannot take them now. One report waits on this phone.");

    [BrowserFact]
    public async Task A_report_at_which_the_service_fails_does_not_hold_up_the_others()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.Page.RouteAsync(Started, route => route.FulfillAsync(Problem(500, null)));
        await phone.Report("started", "wall.paint", "Started");
        await phone.AddForm("questions", "Ask", new Dictionary<string, string>
        {
            ["id"] = "made-by-the-page", ["at:now"] = "", ["for"] = "lead", ["text"] = "Which of the two blues?",
        });
        await phone.Tap("Ask");
        await phone.IsLoadedAgain();
        await Expect(phone.Waiting).ToHaveTextAsync(["Started", "Ask"]);
        await Expect(phone.Status).ToContainTextAsync("The service cannot take them now. Two reports wait on this phone.");
        Assert.Empty(await phone.Recorded("question-asked"));

        await phone.SetTime("20:56");
        await phone.Tap("Try now");
        await Expect(phone.Waiting).ToHaveTextAsync(["Started"]);
        await Expect(phone.Page.GetByText("The service fails at this report. Tell the lead what you entered."))
            .ToBeVisibleAsync();
        Assert.Single(await phone.Recorded("question-asked"));

        await phone.Page.UnrouteAsync(Started);
        await phone.Tap("Try now");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    /// <summary>A proxy has a limit of its own, whatever the service allows. It would stay, and hold up all later reports.</summary>
    [BrowserFact]
    public async Task A_photograph_that_is_too_large_for_a_proxy_is_refused()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.Page.GotoAsync(phone.AddressOf("snags/new"));
        await phone.Page.RouteAsync("**/snags", route => route.FulfillAsync(
            new() { Status = 413, ContentType = "text/html", Body = "<h1>Too large</h1>" }));
        await phone.Page.FillInSnag();
        await phone.Tap("Keep the snag");
        await Expect(phone.Refused).ToContainTextAsync("It is too large to be sent. Send a smaller photograph, or none.");
        await Expect(phone.Waiting).ToHaveCountAsync(0);
    }

    private async Task Arrives(RouteFulfillOptions other, string said)
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.Page.RouteAsync(Started, route => route.FulfillAsync(other));
        await phone.Report("started", "wall.paint", "Started");
        await Expect(phone.Status).ToContainTextAsync(said);
        await Expect(phone.Refused).ToHaveCountAsync(0);
        await phone.Page.UnrouteAsync(Started);
        await phone.Tap("Try now");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    private static RouteFulfillOptions Problem(int status, string? code) => new()
    {
        Status = status, ContentType = "application/problem+json",
        Body = $$"""{"type": "about:blank", "title": "No", "status": {{status}}, "code": "{{code}}"}""",
    };
}
