using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Nights;

/// <summary>The Monday night of the small week, in which a wall is painted, read and worked by its pages.</summary>
internal static class PaintNight
{
    private const string Night = $"{Address}/nights/monday";

    /// <summary>A direction whose wall asks for the gates of paint.</summary>
    public static readonly string Painted = FirstRain.Direction.Replace("\"cautions\": [\"Air the room.\"]",
        "\"cautions\": [\"Air the room.\"], \"traits\": [\"paint\"]", StringComparison.Ordinal);

    /// <summary>The week is published, and it is half past eight on Monday.</summary>
    public static async Task<(Chain Chain, FirstRain Week, int Paint, string Painter)> OpenedWith(
        RunningService service, string direction)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(direction);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        var paint = (await ExpectStatus(200, week.Lead.Get($"{Night}/sheet"))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!;
        return (chain, week, (int)paint["number"]!, (string)paint["people"]![0]!["person"]!);
    }

    public static async Task<Browser> SignedIn(Chain chain, string person, Role role)
    {
        var browser = await chain.SignedIn(person, role);
        browser.FormToken = null; // a form carries its own
        return browser;
    }

    public static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return WebUtility.HtmlDecode(answer.Text);
    }

    public static PageForm Form(string page, string button) => PageForm.With(page, button);

    /// <param name="page">The page to which the answer leads, if that matters.</param>
    public static async Task Accepted(Task<ApiResponse> sent, string? page = null)
    {
        var answer = await sent;
        Assert.True(answer.Status == 303, $"{answer.Status}: {WebUtility.HtmlDecode(answer.Text)}");
        if (page is not null) Assert.Equal(page, answer.Location);
    }

    public static async Task<JsonNode> Piece(FirstRain week, int number) =>
        (await ExpectStatus(200, week.Lead.Get($"{Night}/pieces/{number}"))).Json;

    public static async Task<string> NameOf(FirstRain week, string person) =>
        (string)(await ExpectStatus(200, week.Lead.Get($"{Night}/sheet?person={person}"))).Json["order"]!["name"]!;
}
