using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests;

/// <summary>The small week after its last night: all work is done, and its area is looked at with one thing not good.</summary>
internal static class FinishedWeek
{
    public static async Task<StoreWeek> Of(Site site)
    {
        var week = await StoreWeek.Small(site);
        week.MoveTo("2027-03-11T21:00");
        foreach (var (task, night) in week.Work)
            await Post(week, "work/finished", new JsonObject
            {
                ["id"] = task, ["task"] = task, ["night"] = night, ["at"] = "2027-03-11T19:00:00Z",
            });
        var walk = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/walk-through"))).Json;
        await Post(week, "walk-through", new JsonObject
        {
            ["id"] = "l1", ["zone"] = "window", ["at"] = "2027-03-11T20:00:00Z",
            ["answers"] = new JsonArray([.. walk["areas"]![0]!["checks"]!.AsArray()
                .Select(check => (string)check!["check"]!["id"]!).Select(check => check == "light"
                    ? new JsonObject { ["check"] = check, ["answer"] = "notGood", ["why"] = "A dark hole." }
                    : new JsonObject { ["check"] = check, ["answer"] = "good" })]),
        });
        return week;
    }

    private static async Task Post(StoreWeek week, string address, JsonObject report)
    {
        var answer = await week.Lead.Post($"{week.Address}/{address}", report.ToJsonString());
        Assert.True(answer.Status < 300, $"{address}: {answer.Text}");
    }
}
