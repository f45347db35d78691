using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>A crew works a night with its pages alone, in a browser without script: gates, start, more time, checks.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PersonNightTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday";

    [Fact]
    public async Task A_crew_member_starts_asks_for_more_time_and_finishes_with_checks()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
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
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var form = Form(await Page(crew, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good");
        await Accepted(form.Send(crew));
        week.Clock.MoveTo("2027-03-08T20:31");
        await Accepted(form.Send(crew));
        Assert.Equal("2027-03-08T20:30:00Z", (string?)(await Piece(week, paint))["report"]!["from"]);
    }

    [Fact]
    public async Task The_piece_of_somebody_else_is_shown_without_a_form()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        var stranger = new[] { "p1", "p2", "p3" }.First(person => person != painter);
        using var crew = await SignedIn(chain, stranger, Role.Crew);
        var piece = await Page(crew, $"{Night}/pieces/{paint}?act=finish");
        Markup.AssertNoForm(piece);
        Assert.Contains($"It is planned for {await NameOf(week, painter)}. They report of it, or the lead does for them.", piece);
        Markup.AssertNoForm(await Page(crew, $"{Night}/sheet?person={painter}"));
        Assert.Equal(404, (await crew.Api.Get($"{Night}/pieces/999", ("Accept", "text/html"))).Status);
    }

    [Fact]
    public async Task Until_when_it_begins_or_ends_is_said_as_past_once_it_is_past()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var (own, whole) = ($"{Night}/sheet?person={painter}", $"{Night}/sheet");
        var piece = await Piece(week, paint);
        var (start, end) = (((string)piece["latestStart"]!)[11..16], ((string)piece["latestEnd"]!)[11..16]);
        week.Clock.MoveTo($"2027-03-08T{start}");
        Assert.Contains($"Start no later than {start},", await Page(crew, own));
        week.Clock.MoveTo($"2027-03-08T{start}:01");
        foreach (var page in new[] { await Page(crew, own), await Page(crew, whole) })
        {
            Assert.Contains($"It should have begun by {start},", page);
            Assert.DoesNotContain($"Start no later than {start}", page);
        }

        await Accepted(Form(await Page(crew, $"{Night}/pieces/{paint}?act=start"), "Sign and start").Fill("gates[0].result", "good").Send(crew));
        Assert.Contains($"End no later than {end},", await Page(crew, own));
        week.Clock.MoveTo($"2027-03-08T{end}:01");
        foreach (var page in new[] { await Page(crew, own), await Page(crew, whole) })
        {
            Assert.Contains($"It should have ended by {end},", page);
            Assert.DoesNotContain($"End no later than {end}", page);
        }
    }

    private static async Task<string> Tonight(Browser browser) => (await browser.Api.Get($"{Address}/tonight", ("Accept", "text/html"))).Location!;
}
