using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Openings;

/// <summary>A night is opened, worked and closed in browsers without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NightPagesTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday", Opening = $"{Night}/opening", Closing = $"{Night}/closing";

    /// <summary>The wall is dressed in the night in which it is painted: until then it is half-secured.</summary>
    private static readonly string SameNight = Direction.Replace(
        """{"task": "wall.paint", "dryMinutes": 240}""", """{"task": "wall.paint", "sameNight": true}""");

    [Fact]
    public async Task A_lead_opens_a_night_and_whoever_comes_later_is_added_without_being_accused()
    {
        var (chain, week) = await Planned();
        using var lead = await Browse(chain, "p1", Role.Lead);
        using var crew = await Browse(chain, "p3", Role.Crew);
        var page = await Page(lead, Opening);
        Assert.Contains("Open the night of Monday 8 March", page);
        Assert.Contains("Every way out, and that it stays free all night.", page);
        Assert.Contains("<li dir=\"auto\">Air the room.</li>", page);
        Assert.DoesNotContain(">Open the night</button>", await Page(crew, Opening));

        var empty = await lead.PressButton(page, "Open the night", ("firstAider", "p1")); // no box is ticked
        Assert.Equal(409, empty.Status);
        Assert.Contains("Whoever gives first aid must be there. Name somebody who is.", empty.Text);
        var unsaid = await lead.PressButton(page, "Open the night", ("here:list", "p1"), ("firstAider", "p1"), ("said:list", "exits"));
        Assert.Equal(409, unsaid.Status);
        Assert.Contains("Who gives first aid tonight", unsaid.Text);
        week.Clock.MoveTo("2027-03-08T20:05");
        var opened = await lead.PressButton(await Page(lead, Opening), "Open the night", ("here:list", "p1"), ("here:list", "p2"),
            ("firstAider", "p2"), ("said:list", "exits"), ("said:list", "first-aid"), ("at:now", "19:58"));
        Assert.Equal((303, Opening), (opened.Status, opened.Location!));
        page = await Page(lead, Opening);
        Assert.Contains("Opened 19:58 by Asha Rowan. Ben Marsh gives first aid tonight.", page);
        Assert.Contains("not here yet;", page);
        Assert.DoesNotContain("late", page.Replace("later", ""), StringComparison.OrdinalIgnoreCase);

        var came = await crew.PressButton(await Page(crew, Opening), "Is here now", ("person", "p3"));
        Assert.Equal(303, came.Status);
        Assert.Contains("here since 20:05;", await Page(crew, Opening));
        var json = (await lead.Api.Get(Opening)).Json;
        Assert.Equal(["here", "here", "here"], json["people"]!.AsArray().Select(person => (string)person!["presence"]!));
        Assert.Equal("p1", (string?)(await crew.Api.Get($"{Night}/sheet")).Json["opened"]!["by"]!["person"]);
        Assert.Contains("Opened 19:58 by Asha Rowan. Ben Marsh gives first aid.", await Page(lead, $"{Night}/sheet"));
        Assert.Equal((403, "other-person"), await StatusAndCode(chain.As("p3", Role.Crew).Post($"{Night}/left",
            """{"id": "x1", "person": "p1", "at": "2027-03-08T21:00:00Z"}""")));
    }

    [Fact]
    public async Task A_night_with_something_half_secured_is_closed_with_a_named_decision_and_everybody_out()
    {
        var (chain, week) = await Planned(SameNight);
        using var lead = await Browse(chain, "p1", Role.Lead);
        Assert.Contains("not opened yet, so there is nothing to close", await Page(lead, Closing));
        week.Clock.MoveTo("2027-03-08T23:50");
        await ExpectStatus(204, week.Lead.Post(Opening, """
            {"id": "o1", "at": "2027-03-08T20:00:00Z", "here": ["p1", "p2"], "firstAider": "p2", "said": ["exits", "first-aid"]}
            """));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            """{"id": "w1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T21:00:00Z"}"""));
        var page = await Page(lead, Closing);
        Assert.Contains("“Paint the wall” is begun or done, and “Set the forms” is not done.", System.Net.WebUtility.HtmlDecode(page));
        Assert.DoesNotContain("<input type=\"password\"", page);

        var answers = Answers(page, "good");
        var undecided = await lead.PressButton(page, "Close the night", [.. answers, ("out:list", "p1"), ("out:list", "p2")]);
        Assert.Equal(409, undecided.Status);
        var inside = await lead.PressButton(page, "Close the night", [.. answers, ("out:list", "p1")]);
        Assert.Contains("1 person is recorded as in the store", inside.Text);
        var decided = ("halfSecured[0].decision:row", "shutOff");
        var silent = await lead.PressButton(page, "Close the night", [.. answers, ("out:list", "p1"), ("out:list", "p2"), decided]);
        Assert.Equal(400, silent.Status);
        var closed = await lead.PressButton(page, "Close the night",
            [.. answers, ("out:list", "p1"), ("out:list", "p2"), decided, ("why", "Asha says: a rail stands before it.")]);
        Assert.Equal((303, Closing), (closed.Status, closed.Location!));

        page = await Page(lead, Closing);
        Assert.Contains("Closed 23:50 by Asha Rowan.", page);
        Assert.Contains("Customers are kept out of Show window.", page);
        Assert.Contains("Asha says: a rail stands before it.", page);
        Assert.Empty((await lead.Api.Get(Closing)).Json["inside"]!.AsArray());
        var told = Assert.Single((await chain.HeadOffice.Get("/feed")).Json.AsArray(), e => (string)e!["type"]! == "setweek.night-closed.v1")!;
        Assert.Equal((false, "window", "shutOff"), ((bool)told["data"]!["tradeable"]!, (string)told["data"]!["shutZones"]![0]!,
            (string)told["data"]!["halfSecured"]![0]!["decision"]!));
        Assert.DoesNotContain("p1", told["data"]!.ToJsonString());
        Assert.DoesNotContain("a rail stands", await service.EventsOf(chain));

        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p1", (string?)null));
        Assert.DoesNotContain("Asha", await Page(lead, Closing));
    }

    [Fact]
    public async Task Before_everybody_is_out_the_closing_lists_checks_that_nobody_has_signed()
    {
        var (chain, week) = await Planned();
        using var lead = await Browse(chain, "p1", Role.Lead);
        week.Clock.MoveTo("2027-03-08T23:40");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started",
            """{"id": "w1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            """{"id": "w2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T21:05:00Z"}"""));
        var unsigned = Assert.Single((await lead.Api.Get(Closing)).Json["unsigned"]!.AsArray())!;
        Assert.Equal(("Paint the wall", "No bare spot."), ((string?)unsigned["name"], (string?)unsigned["checks"]![0]));
        var page = await Page(lead, Closing);
        Assert.Contains("Checks that nobody has signed", page);
        var sign = $"{Night}/pieces/{unsigned["number"]}?act=finish";
        Assert.Contains(sign, page);
        Assert.Contains("Nobody has signed its check.", await Page(lead, $"{Night}/sheet"));

        var signed = await lead.PressButton(await Page(lead, sign), "Sign", ("checks[0].result", "good"));
        Assert.Equal(303, signed.Status);
        Assert.DoesNotContain("Checks that nobody has signed", await Page(lead, Closing));
        var report = (await lead.Api.Get($"{Night}/pieces/{unsigned["number"]}")).Json["report"]!;
        Assert.Equal(("done", "2027-03-08T21:05:00Z", "lena"),
            ((string?)report["state"], (string?)report["to"], (string?)report["by"]!["person"]));
        Assert.Equal(("p1", 1), Assert.Single(report["lateSignatures"]!.AsArray()) is { } late
            ? ((string?)late["by"]!["person"], (int)late["checks"]!) : default);
        var sheet = await Page(lead, $"{Night}/sheet");
        Assert.Contains("Asha Rowan signed 1 check later.", sheet);
        Assert.DoesNotContain("Signed by Asha Rowan", sheet);
    }

    [Fact]
    public async Task Only_the_store_reads_who_is_there()
    {
        var (chain, _) = await Planned();
        foreach (var role in new[] { Role.HeadOffice, Role.Region, Role.Engineer })
            foreach (var address in new[] { Opening, Closing })
                Assert.Equal((403, "other-role"), await StatusAndCode(chain.As("someone", role).Get(address)));
    }

    [Fact]
    public async Task A_phones_queue_may_hold_the_opening_and_who_came()
    {
        var (chain, week) = await Planned();
        week.Clock.MoveTo("2027-03-08T21:00");
        var answer = await ExpectStatus(200, week.Lead.Post($"{Address}/reports", """
            {"reports": [
              {"kind": "opening", "night": "monday", "id": "q1", "at": "2027-03-08T20:00:00Z", "here": ["p1"], "firstAider": "p1",
               "said": ["exits", "first-aid"]},
              {"kind": "came", "night": "monday", "id": "q2", "person": "p2", "at": "2027-03-08T20:20:00Z"},
              {"kind": "left", "night": "monday", "id": "q3", "person": "p2", "at": "2027-03-08T20:40:00Z"}]}
            """));
        Assert.Equal([204, 204, 204], answer.Json["answers"]!.AsArray().Select(item => (int)item!["status"]!));
        Assert.Equal(["here", "left", "notYet"], (await week.Lead.Get(Opening)).Json["people"]!.AsArray()
            .OrderBy(person => (string)person!["person"]!, StringComparer.Ordinal).Select(person => (string)person!["presence"]!));
        var types = (await chain.HeadOffice.Get("/feed")).Json.AsArray().Select(e => (string)e!["type"]!).ToList();
        Assert.Contains("setweek.night-opened.v1", types);
        Assert.DoesNotContain(types, type => type.Contains("person", StringComparison.Ordinal));
    }

    /// <summary>A night needs three people, so that everybody has a shift on Monday.</summary>
    private async Task<(Chain, FirstRain)> Planned(string direction = Direction)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(direction, FirstRain.Opening.Replace("\"minPeople\": 2", "\"minPeople\": 3"));
        await week.PlanAndPublish();
        return (chain, week);
    }

    private static (string, string)[] Answers(string page, string answer) =>
        [.. Enumerable.Range(0, System.Text.RegularExpressions.Regex.Count(page, @"answers\[\d+\]\.check"))
            .Select(row => ($"answers[{row}].answer:row", answer))];

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

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
