using System.Net;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>
/// A crew works a night with its pages alone, in a browser without script: gates, start, more time, checks, block, stop; and a lead
/// records for others. The wall is painted on Monday.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class PersonNightTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", Hostile = "</textarea><script>alert('x')</script>";

    private static readonly string Painted = FirstRain.Direction.Replace(
        "\"cautions\": [\"Air the room.\"]", "\"cautions\": [\"Air the room.\"], \"traits\": [\"paint\"]", StringComparison.Ordinal);

    [Fact]
    public async Task A_crew_member_starts_asks_for_more_time_and_finishes_with_checks()
    {
        var (chain, week, paint, painter) = await Opened();
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var tonight = await Page(crew, await Tonight(crew));
        Assert.Contains("Nothing is begun.", tonight);
        Assert.True(tonight.IndexOf("Air the room.", StringComparison.Ordinal) < tonight.IndexOf("Mask the edges.", StringComparison.Ordinal));
        Assert.Contains("The shift ends", tonight);

        // Paint asks for the air handling. While it is off nothing begins, and the page leads back.
        var start = $"{Night}/pieces/{paint}?act=start";
        Assert.Contains($"href=\"{start}\"", tonight);
        var gates = await Page(crew, start);
        var refused = await Form(gates, "Sign and start").Fill("gates[0].result", "notGood").Send(crew);
        Assert.Equal(409, refused.Status);
        Assert.All(["does not begin, because this is not so: The air handling is on", "Nothing has been kept yet."],
            sentence => Assert.Contains(sentence, WebUtility.HtmlDecode(refused.Text)));
        await Accepted(Form(gates, "Sign and start").Fill("gates[0].result", "good").Send(crew), $"{Night}/sheet?person={painter}");
        var begun = await Page(crew, $"{Night}/sheet?person={painter}");
        Assert.Contains("Begun 20:30.", begun);
        Assert.Contains($"Signed by {await NameOf(week, painter)}.", begun);

        // Half an hour more: what it moves, then the report of it.
        week.Clock.MoveTo("2027-03-08T21:00");
        var longer = await Page(crew, $"{Night}/pieces/{paint}/longer?minutes=30");
        Assert.Contains("It would end", longer);
        var json = (await ExpectStatus(200, crew.Api.Get($"{Night}/pieces/{paint}/longer?minutes=30"))).Json;
        Assert.Equal("2027-03-08T22:00:00Z", (string?)json["newEnd"]); // begun 20:30, an hour planned, half an hour more
        await Accepted(Form(longer, "Tell the lead: 30 more minutes").Send(crew));
        Assert.Equal("2027-03-08T22:00:00Z", (string?)(await Piece(week, paint))["report"]!["to"]);

        week.Clock.MoveTo("2027-03-08T21:58");
        var finish = await Page(crew, $"{Night}/pieces/{paint}?act=finish");
        Assert.Contains("You sign as ", finish);
        Assert.Contains($"{Address}/snags/new?piece={paint}&zone=window&then=", finish);
        // A check that does not apply asks for the reason.
        Assert.Equal(400, (await Form(finish, "Sign and finish").Fill("checks[0].result", "doesNotApply").Send(crew)).Status);
        await Accepted(Form(finish, "Sign and finish").Fill("checks[0].result", "good").Fill("air.degreesCelsius:number", "19")
            .Fill("air.moisturePercent:number", "55").Send(crew));
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("done", "good", 19, painter), ((string?)report["state"], (string?)report["checks"]![0]!["result"],
            (int)report["air"]!["degreesCelsius"]!, (string?)report["by"]!["person"]));
        var done = await Page(crew, $"{Night}/sheet?person={painter}");
        Assert.Contains("Done 20:30–21:58.", done);
        Assert.Contains("Air: 19 °C, 55 % relative humidity.", done);
        // 240 minutes, one and a half times, from 21:58 (common practice, no source).
        Assert.Contains("Paint the wall: dry from Tuesday 9 March, 03:58, by estimate. The air was at 19 °C and 55 % relative "
            + "humidity, so it takes 360 minutes in place of the planned 240. Common practice, no source. The maker's data sheet "
            + "comes first.", done);
        Assert.Equal((150, "2027-03-09T03:58:00Z"), (await Piece(week, paint))["drying"]![0] is { } drying
            ? ((int)drying["percent"]!, (string?)drying["dryFrom"]) : default);
    }

    [Fact]
    public async Task A_second_tap_records_nothing_twice()
    {
        var (chain, week, paint, painter) = await Opened();
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var form = Form(await Page(crew, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good");
        await Accepted(form.Send(crew));
        week.Clock.MoveTo("2027-03-08T20:31");
        await Accepted(form.Send(crew));
        Assert.Equal("2027-03-08T20:30:00Z", (string?)(await Piece(week, paint))["report"]!["from"]);
    }

    [Fact]
    public async Task With_a_check_that_is_not_good_a_piece_stays_open_and_head_office_hears_of_no_finish()
    {
        var (chain, week, paint, painter) = await Opened();
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
        var (chain, week, paint, painter) = await Opened();
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var pause = $"{Night}/pieces/{paint}?act=paused";
        Assert.DoesNotContain("Interrupted: it waits", await Page(crew, pause)); // what is not begun is not interrupted
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
        var (chain, week, paint, painter) = await Opened();
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
    public async Task A_lead_records_for_others_with_times_of_the_night_and_the_record_says_so()
    {
        var (chain, week, paint, painter) = await Opened();
        week.Clock.MoveTo("2027-03-09T00:20");
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var record = await Page(lead, $"{Night}/sheet?view=record");
        Assert.Contains("A time left empty records nothing.", record);
        var rows = Form(record, "Record these times");
        var row = RowOf(rows, "wall.paint");
        await Accepted(rows.Fill($"reports[{row}].at:row", "20:40").Fill($"reports[{row + 1}].at:row", "21:45").Send(lead), $"{Night}/sheet");
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("done", "2027-03-08T20:40:00Z", "2027-03-08T21:45:00Z", "lena", true), ((string?)report["state"],
            (string?)report["from"], (string?)report["to"], (string?)report["by"]!["person"], (bool)report["byOther"]!));
        Assert.Single((await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray(),
            entry => (string?)entry!["type"] == "work-finished");
        var sheet = await Page(lead, $"{Night}/sheet");
        Assert.Contains($"Recorded by lena for {await NameOf(week, painter)}.", sheet);

        // Crew have no such page, and a report that is refused is told although the others are recorded.
        using var crew = await SignedIn(chain, painter, Role.Crew);
        Assert.DoesNotContain("Record these times", await Page(crew, $"{Night}/sheet?view=record"));
        var token = new KeyValuePair<string, string>(Service.Access.Sessions.FormToken.Field,
            Form(record, "Record these times").ValuesOf(Service.Access.Sessions.FormToken.Field).First());
        var refused = await lead.PostForm($"{Address}/reports", [token,
            new("reports[0].kind", "started"), new("reports[0].id", "x1"), new("reports[0].task", "nothing"),
            new("reports[0].night", "monday"), new("reports[0].at:now", "")]);
        Assert.Equal(409, refused.Status);
        Assert.Contains("1 of 1 reports could not be recorded.", refused.Text);
        var mistyped = await lead.PostForm($"{Address}/reports", [token,
            new("reports[0].kind", "started"), new("reports[0].id", "x2"), new("reports[0].task", "wall.paint"),
            new("reports[0].night", "monday"), new("reports[0].at", "25:99")]);
        Assert.Contains("25:99", mistyped.Text); // it says what is wrong
    }

    [Fact]
    public async Task A_lead_records_later_that_work_went_on_and_was_opened_again_by_whom_and_why()
    {
        var (chain, week, paint, painter) = await Opened();
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var piece = $"{Night}/pieces/{paint}";
        foreach (var act in new[] { "resumed", "reopened" }) Markup.AssertNoForm(await Page(lead, $"{piece}?act={act}"));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started",
            """{"id": "begun", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/paused",
            """{"id": "waits", "task": "wall.paint", "at": "2027-03-08T20:20:00Z"}"""));

        // Crew have one tap, a lead a page with the people and the time.
        Assert.Equal([""], Form(await Page(crew, $"{Night}/sheet?person={painter}"), "Go on").SentIn("at:now"));
        Markup.AssertNoForm(await Page(crew, $"{piece}?act=resumed"));
        Assert.Contains($"href=\"{piece}?act=resumed\"", await Page(lead, $"{Night}/sheet"));
        var on = Form(await Page(lead, $"{piece}?act=resumed"), "Go on");
        Assert.Equal([painter], on.SentIn("people:list"));
        var other = on.ValuesOf("people:list").First(person => person != painter);
        await Accepted(on.Untick("people:list", painter).Fill("people:list", other).Fill("at:now", "20:25").Send(lead),
            $"{Night}/sheet#n{paint}");
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(("running", "2027-03-08T20:25:00Z", other), ((string?)report["state"], (string?)report["from"],
            (string?)Assert.Single(report["people"]!.AsArray())!["person"]));

        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            """{"id": "done", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:27:00Z"}"""));
        Assert.Contains($"href=\"{piece}?act=reopened\"", await Page(lead, $"{Night}/sheet"));
        var again = Form(await Page(lead, $"{piece}?act=reopened"), "Open it again");
        await Accepted(again.Fill("note", "A bare spot at the left.").Fill("at:now", "20:29").Send(lead), $"{Night}/sheet#n{paint}");
        Assert.Equal("reopened", (string?)(await Piece(week, paint))["report"]!["state"]);
        var entry = (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray()
            .Single(entry => (string?)entry!["type"] == "work-reopened")!;
        Assert.Equal("2027-03-08T20:29:00Z", (string?)entry["at"]);
        Assert.Contains("A bare spot at the left.", entry.ToJsonString());
        // Crew do not open work again.
        Assert.DoesNotContain("Open it again", await Page(crew, $"{piece}?act=reopened"));
    }

    [Fact]
    public async Task One_tap_records_both_partners_and_a_lead_names_who_really_did_it()
    {
        var (chain, week, paint, painter) = await Opened();
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var start = Form(await Page(lead, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good");
        var other = start.ValuesOf("people:list").First(person => person != painter);
        await Accepted(start.Fill("people:list", other).Fill("at:now", "20:10").Send(lead));
        var report = (await Piece(week, paint))["report"]!;
        Assert.Equal(2, report["people"]!.AsArray().Count);
        Assert.Equal("2027-03-08T20:10:00Z", (string?)report["from"]);
        // The other one finishes it for both.
        using var crew = await SignedIn(chain, other, Role.Crew);
        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=finish"), "Sign and finish")
            .Fill("checks[0].result", "good").Send(crew));
        Assert.Equal(new[] { painter, other }.Order(),
            (await Piece(week, paint))["report"]!["people"]!.AsArray().Select(person => (string)person!["person"]!).Order());
    }

    [Fact]
    public async Task The_piece_of_somebody_else_is_shown_without_a_form()
    {
        var (chain, week, paint, painter) = await Opened();
        var stranger = new[] { "p1", "p2", "p3" }.First(person => person != painter);
        using var crew = await SignedIn(chain, stranger, Role.Crew);
        var piece = await Page(crew, $"{Night}/pieces/{paint}?act=finish");
        Markup.AssertNoForm(piece);
        Assert.Contains($"It is planned for {await NameOf(week, painter)}. They report of it, or the lead does for them.", piece);
        Markup.AssertNoForm(await Page(crew, $"{Night}/sheet?person={painter}"));
        Assert.Equal(404, (await crew.Api.Get($"{Night}/pieces/999", ("Accept", "text/html"))).Status);
    }

    [Fact]
    public async Task A_stopped_place_says_so_and_offers_no_start_until_a_lead_lifts_it()
    {
        var (chain, _, paint, painter) = await Opened();
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

    private static PageForm Form(string page, string button) => PageForm.With(page, button);

    private static int RowOf(PageForm rows, string task) => rows.Names
        .Where(name => name.EndsWith("].task", StringComparison.Ordinal) && rows.ValuesOf(name).Contains(task))
        .Select(name => int.Parse(name["reports[".Length..name.IndexOf(']', StringComparison.Ordinal)],
            System.Globalization.CultureInfo.InvariantCulture)).Min();

    private static async Task<string> Tonight(Browser browser) => (await browser.Api.Get($"{Address}/tonight", ("Accept", "text/html"))).Location!;

    private Task<(Chain Chain, FirstRain Week, int Paint, string Painter)> Opened() => OpenedWith(service, Painted);
}
