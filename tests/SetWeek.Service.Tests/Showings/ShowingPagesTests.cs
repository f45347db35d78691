using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Showings;

/// <summary>
/// The painted wall is shown before its work begins: Lena, who leads the week, shows it, and whoever paints it on Monday signs on
/// the page of the start, or she records it.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class ShowingPagesTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", Shown = $"{Address}/displays/wall/shown";

    private static readonly string Marked = FirstRain.Direction.Replace(
        "\"name\": \"Painted wall\", ", "\"name\": \"Painted wall\", \"mustBeShown\": true, ", StringComparison.Ordinal);

    [Fact]
    public async Task A_member_of_the_crew_signs_on_the_page_of_the_start_and_then_begins()
    {
        var (chain, week, paint, painter) = await Opened();
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var name = await NameOf(week, painter);
        Assert.Contains($"Not shown yet to <bdi>{name}</bdi>.", await Page(crew, $"{Night}/sheet?person={painter}"));

        // While no lead is known, nobody can be named.
        var start = $"{Night}/pieces/{paint}?act=start";
        var before = await Page(crew, start);
        Assert.Contains("Nobody is known yet who may show it.", before);
        Assert.Equal(409, (await PageForm.With(before, "Start").Send(crew)).Status);

        await OpenNight(week, painter);
        var gate = await Page(crew, start);
        Assert.Contains($"{name}: not shown yet.", gate);
        await Accepted(crew.PressButton(gate, "It was shown to me"), start);
        await Accepted(crew.PressButton(gate, "It was shown to me"), start); // a second tap
        var piece = await Piece(week, paint);
        var known = Assert.Single(piece["showing"]!["people"]!.AsArray())!;
        Assert.Equal(("lena", "2027-03-08T20:30:00Z", null),
            ((string?)known["shownBy"]!["person"], (string?)known["at"], known["recordedBy"]));

        await Accepted(PageForm.With(await Page(crew, start), "Start").Send(crew), $"{Night}/sheet?person={painter}");
        Assert.Equal("running", (string?)(await Piece(week, paint))["report"]!["state"]);
        Assert.Contains($"signed by {name}", await Page(crew, Shown));
        Assert.Single((await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray(),
            entry => (string?)entry!["type"] == "display-shown");

        // Head office hears of it without names.
        var shown = (await ExpectStatus(200, week.HeadOffice.Get("/feed"))).Json.AsArray()
            .Single(happened => (string?)happened!["type"] == "setweek.display-shown.v1")!["data"]!;
        Assert.Equal(("wall", 1), ((string?)shown["display"], (int)shown["people"]!));
        Assert.DoesNotContain("lena", shown.ToJsonString());
        Assert.DoesNotContain(painter, shown.ToJsonString());
    }

    [Fact]
    public async Task A_lead_records_it_for_others_and_the_page_says_so()
    {
        var (chain, week, paint, painter) = await Opened();
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var refused = await PageForm.With(await Page(lead, $"{Night}/pieces/{paint}?act=start"), "Start").Send(lead);
        Assert.Equal(409, refused.Status);
        Assert.Contains("Before this start it was not shown to the person who begins. Somebody who knows it shows it first.",
            WebUtility.HtmlDecode(refused.Text));
        var page = await Page(lead, Shown);
        Assert.True(page.IndexOf("Air the room.", StringComparison.Ordinal) < page.IndexOf("To whom it was shown", StringComparison.Ordinal));
        await Accepted(lead.PressButton(page, "Record that it was shown"), Shown);
        var name = await NameOf(week, painter);
        Assert.Contains($"{name}: shown by lena, Monday 8 March, 20:30; recorded by lena.", await Page(lead, Shown));
        Assert.DoesNotContain("Not shown yet", await Page(lead, $"{Night}/sheet"));
        await Accepted(PageForm.With(await Page(lead, $"{Night}/pieces/{paint}?act=start"), "Start").Send(lead));
    }

    [Fact]
    public async Task Crew_sign_for_themselves_alone_and_only_the_store_reads_it()
    {
        var (chain, week, paint, painter) = await Opened();
        await OpenNight(week, painter);
        var crew = chain.As(painter, Role.Crew);
        var other = new[] { "p1", "p2", "p3" }.First(person => person != painter);
        var refused = await crew.Post(Shown, Showing("s1", "lena", painter, other));
        Assert.Equal((403, "other-person"), (refused.Status, refused.Code));
        Assert.Equal("shown-to-self", (await crew.Post(Shown, Showing("s1", painter, painter))).Code);
        Assert.Equal("unknown-display", (await crew.Post($"{Address}/displays/tree/shown", Showing("s1", "lena", painter))).Code);
        await ExpectStatus(204, crew.Post(Shown, Showing("s1", "lena", painter)));
        await ExpectStatus(204, crew.Post(Shown, Showing("s1", "lena", painter)));
        var view = (await ExpectStatus(200, crew.Get(Shown))).Json;
        Assert.True((bool)view["mustBeShown"]!);
        Assert.Equal(403, (await week.HeadOffice.Get(Shown)).Status);
        foreach (var reader in new[] { week.HeadOffice, chain.As("someone", Role.Region), chain.As("someone", Role.Engineer) })
        {
            var pieces = (await ExpectStatus(200, reader.Get($"{Night}/sheet"))).Json["pieces"]!.AsArray();
            Assert.All(pieces, piece => Assert.Null(piece!["showing"]));
            Assert.Null((await ExpectStatus(200, reader.Get($"{Night}/pieces/{paint}"))).Json["showing"]);
        }
        Assert.NotNull((await Piece(week, paint))["showing"]);
        Assert.Equal(404, (await crew.Get($"{Address}/displays/tree/shown")).Status);
    }

    [Fact]
    public async Task A_phones_queue_holds_the_signature_and_the_start_after_it()
    {
        var (chain, week, paint, painter) = await Opened();
        await OpenNight(week, painter);
        var answers = (await ExpectStatus(200, chain.As(painter, Role.Crew).Post($"{Address}/reports", $$"""
            {"reports": [
              {"kind": "started", "id": "q1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:20:00Z", "people": ["{{painter}}"]},
              {"kind": "shown", "id": "q2", "display": "wall", "at": "2027-03-08T20:21:00Z", "shownBy": "lena", "to": ["{{painter}}"]},
              {"kind": "started", "id": "q3", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:22:00Z", "people": ["{{painter}}"]}]}
            """))).Json["answers"]!.AsArray();
        Assert.Equal([409, 204, 204], answers.Select(answer => (int)answer!["status"]!));
        Assert.Equal("not-shown", (string?)answers[0]!["problem"]!["code"]);
        Assert.Equal("2027-03-08T20:22:00Z", (string?)(await Piece(week, paint))["report"]!["from"]);
    }

    private static string Showing(string id, string by, params string[] to) => new JsonObject
    {
        ["id"] = id, ["at"] = "2027-03-08T20:25:00Z", ["shownBy"] = by, ["to"] = new JsonArray([.. to.Select(person => (JsonNode)person)]),
    }.ToJsonString();

    private static Task<ApiResponse> OpenNight(FirstRain week, string person) => ExpectStatus(204, week.Lead.Post($"{Night}/opening", $$"""
        {"id": "n1", "at": "2027-03-08T20:00:00Z", "here": ["{{person}}"], "firstAider": "{{person}}", "said": ["exits", "first-aid"]}
        """));

    private Task<(Chain Chain, FirstRain Week, int Paint, string Painter)> Opened() => OpenedWith(service, Marked);
}
