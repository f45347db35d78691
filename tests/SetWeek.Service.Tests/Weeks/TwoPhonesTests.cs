using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

/// <summary>Ben paints, and Asha's phone reports the same as his: the sheet, the hours and a reader of the feed count it once.</summary>
[Collection(ServiceCollection.Name)]
public sealed class TwoPhonesTests(RunningService service)
{
    [Fact]
    public async Task What_two_phones_report_counts_once()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:45");
        foreach (var (kind, at) in new[] { ("started", "20:10"), ("finished", "20:40") })
            foreach (var phone in new[] { "p2", "p1" })
                Assert.InRange((await chain.As(phone, Role.Crew, "harbour-street").Post($"{Address}/work/{kind}", $$"""
                    {"id": "{{phone}}.{{kind}}", "task": "wall.paint", "night": "monday", "at": "2027-03-08T{{at}}:00Z", "people": ["p2"]}
                    """)).Status, 200, 204);

        var pieces = (await ExpectStatus(200, week.Lead.Get($"{Address}/nights/monday/sheet"))).Json["pieces"]!.AsArray();
        var report = Assert.Single(pieces, piece => (string?)piece!["task"] == "wall.paint")!["report"]!;
        Assert.Equal(("done", "2027-03-08T20:10:00Z", "2027-03-08T20:40:00Z"),
            ((string?)report["state"], (string?)report["from"], (string?)report["to"]));
        var hours = (await ExpectStatus(200, week.Lead.Get($"{Address}/hours"))).Json["hours"]!.AsArray();
        Assert.Equal(30, Assert.Single(hours, line => (string?)line!["person"] == "p2" && (string?)line["night"] == "monday")!["workedMinutes"]
            !.GetValue<int>());

        // The feed has each report with its id, and the same work and time in both: whoever keeps a state by work has it once.
        var feed = (await ExpectStatus(200, week.HeadOffice.Get("/feed"))).Json.AsArray()
            .Where(e => ((string)e!["type"]!).StartsWith("setweek.work-", StringComparison.Ordinal)).Select(e => e!).ToList();
        Assert.Equal(["p2.started", "p1.started", "p2.finished", "p1.finished"], feed.Select(e => (string)e["data"]!["report"]!));
        Assert.Equal("setweek.work-finished.v1 2027-03-08T20:40:00Z", Assert.Single(feed.Aggregate(
            new Dictionary<string, string>(), Fold)).Value);

        var told = (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray()
            .Where(entry => ((string)entry!["type"]!).StartsWith("work-", StringComparison.Ordinal))
            .Select(entry => ((string)entry!["sentence"]!).EndsWith("That agrees with an earlier report, and counts once.", StringComparison.Ordinal));
        Assert.Equal([false, true, false, true], told);
    }

    private static Dictionary<string, string> Fold(Dictionary<string, string> work, JsonNode e)
    {
        work[$"{e["data"]!["task"]} {e["data"]!["stint"]}"] = $"{e["type"]} {e["data"]!["at"]}";
        return work;
    }
}
