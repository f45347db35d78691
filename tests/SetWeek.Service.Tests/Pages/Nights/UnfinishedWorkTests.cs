using System.Net;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>Work that is not finished: a check is not good, it is interrupted or blocked, or its place is stopped.</summary>
[Collection(ServiceCollection.Name)]
public sealed class UnfinishedWorkTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", Hostile = "</textarea><script>alert('x')</script>";

    [Fact]
    public async Task With_a_check_that_is_not_good_a_piece_stays_open_and_head_office_hears_of_no_finish()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good").Send(crew));
        week.Clock.MoveTo("2027-03-08T21:25");
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=finish"), "Sign and finish")
            .Fill("checks[0].result", "notGood").Fill("remainingMinutes:number", "20").Send(crew));
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("paused", 20), ((string?)report["state"], (int)report["remainingMinutes"]!));
        var feed = (await ExpectStatus(200, week.HeadOffice.Get("/feed"))).Text;
        Assert.Contains("setweek.checks-failed.v1", feed);
        Assert.DoesNotContain("setweek.work-finished.v1", feed);
        var open = await Page(crew, $"{Night}/sheet?person={painter}");
        Assert.Contains("Not good: No bare spot.", open);

        week.Clock.MoveTo("2027-03-08T21:30");
        await Accepted(Form(open, "Go on").Send(crew));
        Assert.Equal(("running", "2027-03-08T21:50:00Z"), (await Piece(week, paint))["report"] is { } on
            ? ((string?)on["state"], (string?)on["to"]) : default);
        var history = (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Text;
        Assert.Contains("is not done: it was looked at", history);
    }

    [Fact]
    public async Task Work_is_interrupted_and_goes_on_and_says_how_many_pieces_are_done()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var pause = $"{Night}/pieces/{paint}?act=paused";
        // What is not begun is not interrupted; a phone keeps the page before.
        Assert.DoesNotContain($"href=\"{pause}\"", await Page(crew, $"{Night}/sheet?person={painter}"));
        Assert.Contains("Interrupted: it waits", await Page(crew, pause));
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good").Send(crew));
        Assert.Contains($"href=\"{pause}\"", await Page(crew, $"{Night}/sheet?person={painter}"));

        week.Clock.MoveTo("2027-03-08T20:40");
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}/longer?minutes=10"), "Tell the lead: 10 more minutes")
            .Fill("done:number", "4").Fill("of:number", "9").Send(crew));
        Assert.Contains("4 of 9 pieces are done.", await Page(crew, $"{Night}/sheet?person={painter}"));

        week.Clock.MoveTo("2027-03-08T20:50");
        await Accepted(Form(await Page(crew, pause), "Interrupted: it waits").Fill("remainingMinutes:number", "35").Send(crew));
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("paused", 35), ((string?)report["state"], (int)report["remainingMinutes"]!));
        var waits = await Page(crew, $"{Night}/sheet?person={painter}");
        Assert.Contains("Interrupted. 35 minutes of work are left.", waits);
        week.Clock.MoveTo("2027-03-08T21:00");
        await Accepted(Form(waits, "Go on").Send(crew));
        Assert.Equal("2027-03-08T21:35:00Z", (string?)(await Piece(week, paint))["report"]!["to"]);
    }

    [Fact]
    public async Task A_blocked_piece_says_why_and_until_when_and_hostile_text_stays_text()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=blocked"), "Blocked: tell the lead")
            .Fill("reason", "not-dry").Fill("note", Hostile).Fill("until:time", "22:15").Send(crew));
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("blocked", "not-dry", "2027-03-08T22:15:00Z"),
            ((string?)report["state"], (string?)report["reason"], (string?)report["until"]));
        var raw = (await crew.Api.Get($"{Night}/sheet?person={painter}", ("Accept", "text/html"))).Text;
        Assert.DoesNotContain("<script>", raw);
        Assert.Contains("Blocked: wet, not dry, until 22:15.", WebUtility.HtmlDecode(raw));
        // The question beside the block says that work waits for its answer.
        var ask = Regex.Match(WebUtility.HtmlDecode(raw), "href=\"([^\"]*/questions[?]task=[^\"]*)\">Ask<").Groups[1].Value;
        await Accepted(Form(await Page(crew, ask), "Ask").Fill("text", "May the heater stay on?").Send(crew));
        var asked = (await ExpectStatus(200, week.Lead.Get($"{Address}/questions"))).Json["questions"]![0]!;
        Assert.Equal(("wall.paint", (string?)report["block"]), ((string?)asked["task"], (string?)asked["block"]));
        Assert.Contains("Work waits for the answer.", await Page(crew, $"{Address}/questions"));
        // What is not given is refused, and the form shown again.
        var refused = await Form(await Page(crew, $"{Night}/pieces/{paint}?act=blocked"), "Blocked: tell the lead").Send(crew);
        Assert.Equal(400, refused.Status);
        Assert.Contains("Nothing has been kept yet.", refused.Text);
    }

    [Fact]
    public async Task A_stopped_place_says_so_and_offers_no_start_until_a_lead_lifts_it()
    {
        var (chain, _, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=not-safe"), "Stop the work").Fill("note", Hostile).Send(crew));
        var stopped = await Page(crew, $"{Night}/sheet?person={painter}");
        Assert.Contains("Nothing starts", stopped);
        Assert.DoesNotContain("act=start", stopped);
        Assert.DoesNotContain("lift the stop</button>", stopped);
        Assert.DoesNotContain("Sign and start", await Page(crew, $"{Night}/pieces/{paint}?act=start"));

        using var lead = await SignedIn(chain, "lena", Role.Lead);
        await Accepted(Form(await Page(lead, $"{Night}/sheet"), "It is safe again: lift the stop").Fill("why", "Fixed.").Send(lead));
        Assert.Contains("act=start", await Page(crew, $"{Night}/sheet?person={painter}"));
    }
}
