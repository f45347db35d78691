using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

[Collection(ServiceCollection.Name)]
public sealed class RiskTests(RunningService service)
{
    [Fact]
    public async Task A_plan_says_how_likely_it_is_to_hold_and_the_same_seed_says_it_again()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        var address = $"{Address}/plans/{plan["id"]}/risk?runs=300&spread=70-200&seed=5&spreading=triangular";
        var risk = (await Must(200, week.Lead.Get(address))).Json;
        Assert.Equal((300, 5, "triangular"), ((int)risk["runs"]!, (int)risk["seed"]!, (string?)risk["spreading"]));
        Assert.Equal((double)risk["launch"]!["held"]! / 300, (double)risk["launch"]!["share"]!, 9);
        Assert.NotNull(risk["launch"]!["standardError"]);
        Assert.NotEmpty(risk["nights"]!.AsArray());
        Assert.NotEmpty(risk["tasks"]!.AsArray());
        Assert.True((int)risk["helps"]!["tried"]! >= 0);
        // What helps is looked for as long as there is time, which depends on what else the machine does.
        risk.AsObject().Remove("helps");
        Assert.True(JsonNode.DeepEquals(risk, (await Must(200, week.Lead.Get($"{address}&helps=no"))).Json));

        var page = await Must(200, week.Lead.Get($"{address}&helps=no", ("Accept", "text/html")));
        Assert.Contains("ready by launch", page.Text);
        Assert.Contains("no promise", page.Text);
    }

    [Fact]
    public async Task The_published_plan_is_put_to_chance_from_now_on()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get($"{Address}/plan/risk")));
        await Must(204, week.Publish(plan, await week.ETag()));
        var risk = (await Must(200, week.Lead.Get($"{Address}/plan/risk?runs=100&helps=no"))).Json;
        Assert.Equal(100, (int)risk["launch"]!["runs"]!);
    }

    [Fact]
    public async Task What_cannot_be_asked_is_refused_with_the_reason()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var address = $"{Address}/plans/{plan["id"]}/risk";
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plans/no-such-plan/risk")).Status);
        foreach (var (query, code) in new[]
        {
            ("runs=0", "no-runs"), ("runs=100001", "no-runs"), ("runs=", "no-runs"), ("seed=-1", "no-seed"),
            ("grace=241", "no-grace"),
            ("spreading=normal", "no-spreading"), ("spread=120-80", "no-spread"), ("spread=80", "no-spread"),
            ("helps=perhaps", "no-helps"),
        })
            Assert.Equal((400, code), await StatusAndCode(week.Lead.Get($"{address}?{query}")));
        var all = await week.Lead.Get($"{address}?runs=0&seed=-1&helps=perhaps");
        Assert.Equal((400, "no-runs"), (all.Status, all.Code));
        Assert.Contains("seed needs a whole number from 0 to 2147483647. helps needs yes or no.", all.Text);
        Assert.Equal(403, (await chain.As("cy", Role.Crew, "harbour-street").Get(address)).Status);
        Assert.Equal(406, (await week.Lead.Get(address, ("Accept", "image/png"))).Status);
    }

    private static async Task<(int, string?)> StatusAndCode(Task<Heard> asking) =>
        await asking is var heard ? (heard.Status, heard.Code) : default;
}
