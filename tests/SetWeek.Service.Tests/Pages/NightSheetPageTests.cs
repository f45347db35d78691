using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>A night as a page: the order of all, or of one person, without pay.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NightSheetPageTests(RunningService service)
{
    private const string Sheet = $"{Address}/nights/monday/sheet";

    [Fact]
    public async Task The_page_says_what_the_sheet_says()
    {
        var (chain, week) = await Published();
        var crew = chain.As("p3", Role.Crew, "harbour-street");
        var json = (await crew.Get(Sheet)).Json;
        var page = await Page(crew, Sheet);
        Assert.Contains("The night of Monday 8 March", page);
        Assert.Contains("has the keys.", page);
        Assert.NotEmpty(json["pieces"]!.AsArray());
        foreach (var piece in json["pieces"]!.AsArray())
            Assert.Contains($"No. {piece!["number"]}, <bdi>{piece["zoneName"]}</bdi>.", page);
        Assert.Contains("Start no later than ", page);
        Assert.Contains("Local law and local codes", page);
        Assert.DoesNotContain("£", page);
        Assert.Contains($"href=\"{Sheet}\"", await Page(week.Lead, $"{Address}/plan"));
    }

    [Fact]
    public async Task A_person_sees_what_is_now_and_then_with_whom_and_behind()
    {
        var (_, week) = await Published();
        var paint = (await week.Lead.Get(Sheet)).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!;
        var painter = (string)paint["people"]![0]!["person"]!;
        var address = $"{Sheet}?person={painter}";
        Assert.Contains("Nothing is begun.", await Page(week.Lead, address));
        week.Clock.MoveTo("2027-03-08T23:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", $$"""
            {"id": "phone-1", "at": "{{(string)paint["from"]!}}", "task": "wall.paint", "stint": 1, "night": "monday"}
            """));
        var begun = await Page(week.Lead, address);
        Assert.DoesNotContain("Nothing is begun.", begun);
        Assert.Contains("Begun ", begun);
        Assert.Contains("Air the room.", begun); // a caution, not folded
    }

    private static async Task<string> Page(ApiClient client, string address)
    {
        var answer = await client.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return WebUtility.HtmlDecode(answer.Text);
    }

    private async Task<(Chain Chain, FirstRain Week)> Published()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        return (chain, week);
    }
}
