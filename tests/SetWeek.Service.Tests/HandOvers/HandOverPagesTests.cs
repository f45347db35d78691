using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Photos;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.HandOvers;

/// <summary>The walk-through and the hand-over in browsers without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class HandOverPagesTests(RunningService service)
{
    private const string Walk = $"{Address}/walk-through", HandOver = $"{Address}/hand-over";

    [Fact]
    public async Task Several_people_look_in_several_rounds_and_what_is_unanswered_stays()
    {
        var (chain, week) = await Worked();
        using var crew = await Browse(chain, "p3", Role.Crew);
        var page = await Page(crew, Walk);
        Assert.Contains("0 of 1 areas are looked at.", page);
        var rows = Rows(page);
        var light = rows.FindIndex(check => check == "light");
        var unsaid = await crew.PressButton(page, "Show window is looked at", ($"answers[{light}].answer:row", "notGood"));
        Assert.Contains("Say in words what is not good", WebUtility.HtmlDecode(unsaid.Text));
        var nothing = await crew.PressButton(page, "Show window is looked at");
        Assert.Equal(400, nothing.Status);
        var words = await crew.PressButton(page, "Show window is looked at", ("answers[0].answer:row", "good"),
            ($"answers[{light}].why:row-text", "Ben left a dark hole."));
        Assert.Equal(400, words.Status);
        Assert.Matches($"fault\" id=\"form-answers-{light}--answer-row-fault\">This field is missing; give it", words.Text);
        Assert.Equal(["Ben left a dark hole."], PageForm.With(words.Text, "Show window is looked at").SentIn($"answers[{light}].why:row-text"));
        var first = await crew.PressButton(page, "Show window is looked at", ($"answers[{light}].answer:row", "notGood"),
            ($"answers[{light}].why:row-text", "Ben left a dark hole."), ("with:list", "p2"));
        Assert.Equal((303, Walk), (first.Status, first.Location!));
        page = await Page(crew, Walk);
        Assert.Contains($"{rows.Count - 1} still to look at. Last ", page);
        Assert.Contains("Not good at ", page);
        Assert.Contains("Cleo Strand and Ben Marsh. <bdi>Ben left a dark hole.</bdi>", page);
        Assert.Matches($"Ben left a dark hole\\.</bdi>\\s+<a href=\"{Address}/snags/1\">Snag 1</a>", page);
        Assert.Equal("Ben left a dark hole.", (string?)(await week.Lead.Get($"{Address}/snags")).Json["snags"]![0]!["what"]);

        using var lead = await Browse(chain, "lena", Role.Lead);
        page = await Page(lead, Walk);
        var widths = Rows(page).FindIndex(check => check == "widths");
        var second = await lead.PressButton(page, "Show window is looked at",
            [.. Rows(page).Select((_, row) => ($"answers[{row}].answer:row", "good")), ($"answers[{widths}].millimetres:row-number", "900")]);
        Assert.Equal(303, second.Status);
        Assert.Contains("The one area is looked at.", await Page(lead, Walk));
        page = await Page(lead, $"{Walk}?area=window");
        Assert.Contains("900 mm (under 915 mm: only where the local code allows it).", page);
        Assert.Equal(404, (await lead.Api.Get($"{Walk}?area=roof")).Status);

        var office = await chain.HeadOffice.Get(Walk);
        Assert.DoesNotContain("Ben", office.Text);
        Markup.AssertNoForm((await chain.HeadOffice.Get(Walk, ("Accept", "text/html"))).Text);
        Assert.DoesNotContain("dark hole", await service.EventsOf(chain));
        var told = (await chain.HeadOffice.Get("/feed")).Json.AsArray().Where(e => (string)e!["type"]! == "setweek.area-looked-at.v1").ToList();
        Assert.Equal(["""["light"]""", "[]"], told.Select(e => e!["data"]!["failed"]!.ToJsonString()));
    }

    [Fact]
    public async Task A_week_is_accepted_by_name_once_nobody_could_be_hurt_and_that_can_be_withdrawn()
    {
        var (chain, week) = await Worked();
        using var lead = await Browse(chain, "lena", Role.Lead);
        var page = await Page(lead, HandOver);
        Assert.DoesNotContain("Accept the week</button>", page);
        Assert.Contains("Show window: 5 checks of safety are not looked at.", page);
        Assert.Equal((409, "not-safe"), await Accept(week, await week.ETag()));

        await Look(week, "a1", "good");
        await Look(week, "a2", "notGood", "light");
        page = await Page(lead, HandOver);
        await Look(week, "a3", "notGood", "seams");
        var older = await lead.PressButton(page, "Accept with one thing open", ("name", "Hester Vane"));
        Assert.Equal(412, older.Status);
        Assert.Contains("As it is now: <bdi>open are snag 1 and snag 2", older.Text);
        Assert.Equal("Hester Vane", Assert.Single(PageForm.With(older.Text, "Accept with 2 things open").SentIn("name")));
        var accepted = await lead.PressButton(await Page(lead, HandOver), "Accept with 2 things open",
            ("name", "Hester Vane, runs the store"), ("morning", "The strings are on the left switch."));
        Assert.Equal((303, HandOver), (accepted.Status, accepted.Location!));
        page = await Page(lead, HandOver);
        Assert.Contains("<bdi>Hester Vane, runs the store</bdi> accepted the week ", page);
        Assert.Contains("The strings are on the left switch.", page);
        var told = Assert.Single((await chain.HeadOffice.Get("/feed")).Json.AsArray(), e => (string)e!["type"]! == "setweek.week-handed-over.v1")!;
        Assert.Equal([1, 2], told["data"]!["snags"]!.AsArray().Select(snag => (int)snag!));
        Assert.Empty(told["data"]!["openChecks"]!.AsArray());
        Assert.DoesNotContain("Hester", await service.EventsOf(chain));
        Assert.Equal("Hester Vane, runs the store", (string?)(await chain.HeadOffice.Get(HandOver)).Json["accepted"]!["name"]);
        Assert.Null((await chain.As("cy", Role.Crew).Get(HandOver)).Json["accepted"]!["name"]);

        var withdrawn = await lead.PressButton(page, "Withdraw the hand-over", ("why", "The lights were taken down."));
        Assert.Equal(303, withdrawn.Status);
        Assert.Contains("Nobody has accepted the week", WebUtility.HtmlDecode((await chain.As("cy", Role.Crew)
            .Get(HandOver, ("Accept", "text/html"))).Text));
        Assert.Equal(204, (await Accept(week, await week.ETag())).Item1);
        Assert.Equal((409, "handed-over-already"), await Accept(week, await week.ETag()));
    }

    [Fact]
    public async Task Photographs_of_an_area_and_of_what_is_accepted_stand_beside_it()
    {
        var (chain, week) = await Worked();
        using var crew = await Browse(chain, "p3", Role.Crew);
        var sent = await PageForm.With((await crew.Api.Get(Walk, ("Accept", "text/html"))).Text, "Show window is looked at")
            .Fill("answers[0].answer:row", "good").Attach(TestPictures.Jpeg()).Send(crew);
        Assert.Equal((303, Walk), (sent.Status, sent.Location));
        var photo = (string)Assert.Single((await crew.Api.Get(Walk)).Json["areas"]![0]!["photos"]!.AsArray())!;
        Assert.Contains($"src=\"{Address}/photos/{photo}/thumbnail\"", await Page(crew, Walk));
        Assert.DoesNotContain("/photos/", (await chain.As("eva", Role.Engineer).Get(Walk, ("Accept", "text/html"))).Text);

        await Look(week, "a1", "good");
        using var lead = await Browse(chain, "lena", Role.Lead);
        var page = await Page(lead, HandOver);
        Assert.Contains("Photograph of what is accepted", page);
        sent = await PageForm.With(page, "Accept the week").Fill("name", "Hester Vane").Attach(TestPictures.Jpeg()).Send(lead);
        Assert.Equal((303, HandOver), (sent.Status, sent.Location));
        photo = (string)Assert.Single((await chain.HeadOffice.Get(HandOver)).Json["accepted"]!["photos"]!.AsArray())!;
        Assert.Contains($"src=\"{Address}/photos/{photo}/thumbnail\"", await Page(lead, HandOver));
        var told = (await chain.HeadOffice.Get("/feed")).Json.AsArray().Last(e => (string)e!["type"]! == "setweek.week-handed-over.v1")!;
        Assert.Equal(photo, (string?)told["data"]!["photos"]![0]);
    }

    private static async Task Look(FirstRain week, string id, string answer, string? only = null)
    {
        var checks = (await week.Lead.Get(Walk)).Json["areas"]![0]!["checks"]!.AsArray().Select(check => (string)check!["check"]!["id"]!);
        await ExpectStatus(204, week.Lead.Post(Walk, new JsonObject
        {
            ["id"] = id, ["zone"] = "window", ["at"] = $"2027-03-11T20:0{id[1]}:00Z",
            ["answers"] = new JsonArray([.. checks.Where(check => only is null || check == only).Select(check =>
                new JsonObject { ["check"] = check, ["answer"] = answer, ["why"] = "So it is." })]),
        }.ToJsonString()));
    }

    private static async Task<(int, string?)> Accept(FirstRain week, string etag) =>
        await week.Lead.Post(HandOver, """{"name": "Hester Vane"}""", ("If-Match", etag)) is var answer
            ? (answer.Status, answer.Status == 204 ? null : answer.Code) : default;

    /// <summary>The week with all of its work done.</summary>
    private async Task<(Chain, FirstRain)> Worked()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-11T21:00");
        foreach (var (task, night, hour) in new[] { ("wall.paint", "monday", 21), ("wall.forms", "tuesday", 45), ("cycle.tie", "tuesday", 46), ("cycle.panel.fix", "tuesday", 47) })
            await week.Lead.Post($"{Address}/work/finished", new JsonObject
            {
                ["id"] = task, ["task"] = task, ["night"] = night, ["at"] = $"2027-03-{8 + hour / 24:D2}T{hour % 24:D2}:00:00Z",
            }.ToJsonString());
        return (chain, week);
    }

    /// <summary>The ids of the checks in the form, by row.</summary>
    private static List<string> Rows(string page) =>
        [.. Regex.Matches(page, @"name=""answers\[\d+\]\.check"" value=""([^""]+)""").Select(match => match.Groups[1].Value)];

    private static async Task<Browser> Browse(Chain chain, string person, Role role)
    {
        var browser = await chain.SignedIn(person, role, "harbour-street");
        browser.FormToken = null; // a form carries its own
        return browser;
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
