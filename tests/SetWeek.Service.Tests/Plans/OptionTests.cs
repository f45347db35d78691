using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

/// <summary>
/// The forms come two nights late, and a banner, which is a want, needs them. One option keeps the banner at a higher cost,
/// another leaves it out.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class OptionTests(RunningService service)
{
    [Fact]
    public async Task A_replan_offers_options_and_the_second_can_be_published()
    {
        var week = await WeekWithLateKit();
        var first = await week.Plan("2027-03-07T12:00");
        var options = first["options"]!.AsArray();
        Assert.InRange(options.Count, 2, 3);
        Assert.Equal(("fewest-changes", $"{Address}/plans/{first["id"]}"),
            ((string?)options[0]!["id"], (string?)options[0]!["address"]));
        var columns = Goals(options[0]!);
        Assert.All(options, option => Assert.Equal(columns, Goals(option!)));

        var second = options[1]!;
        var read = (await ExpectStatus(200, week.Lead.Get((string)second["address"]!))).Json;
        Assert.Equal("ready", (string?)read["state"]);
        Assert.Equal(10_000, (int)read["chance"]!["holds"]!["runs"]!);
        Assert.True(JsonNode.DeepEquals(second["chance"], read["chance"]));
        Assert.True(JsonNode.DeepEquals(options, read["options"]));
        foreach (var goal in read["plan"]!["goals"]!.AsArray())
            Assert.Equal((long)goal!["value"]!, Cost(second, (string)goal["goal"]!));
        Assert.Equal(((int)second["changes"]!["shifts"]!, (int)second["changes"]!["told"]!),
            (read["changes"]!["shifts"]!.AsArray().Count, read["changes"]!["told"]!.AsArray().Count));

        await ExpectStatus(204, week.Lead.Post($"{second["address"]}/publish", "{}", ("If-Match", await week.ETag())));
        var published = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan"))).Json;
        Assert.True(JsonNode.DeepEquals(read["plan"]!["nights"], published["nights"]));
        // The other option is based on a published plan that has been replaced.
        Assert.Equal("overtaken", (string?)(await ExpectStatus(200,
            week.Lead.Get((string)options[0]!["address"]!))).Json["state"]);
        Assert.Equal("overtaken", (await week.Publish(first, await week.ETag())).Code);
    }

    [Fact]
    public async Task A_new_event_makes_all_options_outdated()
    {
        var week = await WeekWithLateKit();
        var options = (await week.Plan("2027-03-07T12:00"))["options"]!.AsArray();
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T13:00"}"""));
        foreach (var option in options)
        {
            Assert.Equal("overtaken", (string?)(await ExpectStatus(200,
                week.Lead.Get((string)option!["address"]!))).Json["state"]);
            var publish = await week.Lead.Post($"{option["address"]}/publish", "{}", ("If-Match", await week.ETag()));
            Assert.Equal((409, "overtaken"), (publish.Status, publish.Code));
        }
    }

    [Fact]
    public async Task The_page_of_an_option_links_to_the_others()
    {
        var week = await WeekWithLateKit();
        var first = await week.Plan("2027-03-07T12:00");
        var page = await ExpectStatus(200, week.Lead.Get($"{Address}/plans/{first["id"]}", ("Accept", "text/html")));
        Assert.Contains("Fewest changes (this page)", page.Text);
        // No duration of this week varies, so every option holds.
        Assert.Contains("<th scope=\"row\">Holds, of simulated weeks</th><td data-l=\"Fewest changes:\">100.0 %</td>", page.Text);
        Assert.Contains("<th scope=\"row\">95 % interval</th><td data-l=\"Fewest changes:\">100.0 to 100.0 %</td>", page.Text);
        foreach (var other in first["options"]!.AsArray().Skip(1)) Assert.Contains($"href=\"{other!["address"]}\"", page.Text);
    }

    [Fact]
    public async Task A_first_plan_has_no_options()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Empty((await week.Plan())["options"]!.AsArray());
    }

    private async Task<FirstRain> WeekWithLateKit()
    {
        var week = await new FirstRain(service.NewChain()).Open(WithBanner);
        await week.PlanAndPublish();
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        return week;
    }

    private static string[] Goals(JsonNode option) => [.. option["costs"]!.AsArray().Select(cost => (string)cost!["goal"]!)];

    private static long Cost(JsonNode option, string goal) =>
        (long)option["costs"]!.AsArray().Single(cost => (string?)cost!["goal"] == goal)!["value"]!;
}
