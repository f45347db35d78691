using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>A lead records for others what they did, in the night or later.</summary>
[Collection(ServiceCollection.Name)]
public sealed class LeadRecordTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday";

    [Fact]
    public async Task A_lead_records_for_others_with_times_of_the_night_and_the_record_says_so()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
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
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var piece = $"{Night}/pieces/{paint}";
        foreach (var act in new[] { "resumed", "reopened" })
            Assert.DoesNotContain($"href=\"{piece}?act={act}\"", await Page(lead, $"{Night}/sheet"));
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
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
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

    private static int RowOf(PageForm rows, string task) => rows.Names
        .Where(name => name.EndsWith("].task", StringComparison.Ordinal) && rows.ValuesOf(name).Contains(task))
        .Select(name => int.Parse(name["reports[".Length..name.IndexOf(']', StringComparison.Ordinal)],
            System.Globalization.CultureInfo.InvariantCulture)).Min();
}
