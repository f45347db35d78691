using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

[Collection(ServiceCollection.Name)]
public sealed class RiskTests(RunningService service)
{
    [Fact]
    public async Task The_risk_of_a_plan_is_reproducible_with_its_seed()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        var address = $"{Address}/plans/{plan["id"]}/risk?runs=300&spread=70-200&seed=5&spreading=triangular";
        var risk = (await ExpectStatus(200, week.Lead.Get(address))).Json;
        Assert.Equal((300, 5, "triangular"), ((int)risk["runs"]!, (int)risk["seed"]!, (string?)risk["spreading"]));
        Assert.Equal((double)risk["launch"]!["held"]! / 300, (double)risk["launch"]!["share"]!, 9);
        Assert.NotNull(risk["launch"]!["standardError"]);
        Assert.NotEmpty(risk["nights"]!.AsArray());
        Assert.NotEmpty(risk["tasks"]!.AsArray());
        Assert.True((int)risk["helps"]!["tried"]! >= 0);
        // The search for remedies is limited by time, so its result depends on the load of the machine.
        risk.AsObject().Remove("helps");
        Assert.True(JsonNode.DeepEquals(risk, (await ExpectStatus(200, week.Lead.Get($"{address}&helps=no"))).Json));

        var page = await ExpectStatus(200, week.Lead.Get($"{address}&helps=no", ("Accept", "text/html")));
        Assert.Contains("ready by launch", page.Text);
        Assert.Contains("no promise", page.Text);
    }

    /// <summary>
    /// Ben is out of reach, so the week asks for more than a plan of Cleo alone reaches. One more person reaches it, and the page
    /// says so, with what a new plan of the week as it is reaches.
    /// </summary>
    [Fact]
    public async Task Remedies_are_stated_as_what_a_new_plan_reaches_and_an_effort_makes_them_reproducible()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening
            .Replace(UncertainWeek.Ben, "").Replace("""{"chance": 40}""", """{"chance": 80}"""));
        var address = $"{Address}/plans/{(await week.Plan())["id"]}/risk?runs=2000&effort=2";

        var helps = (await ExpectStatus(200, week.Lead.Get(address))).Json["helps"]!;

        Assert.InRange((double)helps["replanned"]!["holds"]!["share"]!,
            UncertainWeek.CheapestShare - 0.02, UncertainWeek.CheapestShare + 0.02);
        Assert.Equal(UncertainWeek.CheapestCost, (long)helps["replanned"]!["cost"]!);
        var person = Assert.Single(helps["best"]!.AsArray(), best => (string?)best!["changes"]![0]!["kind"] == "personNight")!;
        Assert.Equal((10_000, 10_000), ((int)person["reached"]!["holds"]!["held"]!, (int)person["reached"]!["holds"]!["runs"]!));
        Assert.True(JsonNode.DeepEquals(helps, (await ExpectStatus(200, week.Lead.Get(address))).Json["helps"]));

        var page = await ExpectStatus(200, week.Lead.Get(address, ("Accept", "text/html")));
        Assert.Contains("Planned again as it is, the week holds in ", page.Text);
        Assert.Contains("A new plan then holds in 100.0 % of 10,000 simulated weeks", page.Text);
    }

    [Fact]
    public async Task The_parts_of_the_risk_come_as_events_and_the_last_one_is_the_whole_answer()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(UncertainWeek.Direction, UncertainWeek.Opening
            .Replace(UncertainWeek.Ben, "").Replace("""{"chance": 40}""", """{"chance": 80}"""));
        var address = $"{Address}/plans/{(await week.Plan())["id"]}/risk?runs=2000&effort=2";
        await using var stream = await chain.Stream(address);
        Assert.Equal((200, "text/event-stream"), (stream.Status, stream.ContentType));

        var events = await stream.ToEnd();

        Assert.Equal(("chance", "report"), (events[0].EventType, events[^1].EventType));
        var report = (await ExpectStatus(200, week.Lead.Get(address))).Json;
        Assert.True(JsonNode.DeepEquals(report["hold"], JsonNode.Parse(events[0].Data)));
        Assert.True(JsonNode.DeepEquals(report, JsonNode.Parse(events[^1].Data)));
        var mitigations = events.Where(part => part.EventType == "mitigation").Select(part => JsonNode.Parse(part.Data)!).ToList();
        Assert.Equal(events.Count - 2, mitigations.Count);
        Assert.Contains(mitigations, tried => (bool)tried["plannedAnew"]!
            && JsonNode.DeepEquals(tried["changes"], report["helps"]!["best"]![0]!["changes"]));
        Assert.Equal(400, (await week.Lead.Get($"{address}&runs=none", ("Accept", "text/event-stream"))).Status);
    }

    [Fact]
    public async Task The_risk_of_the_published_plan_is_simulated_from_now_on()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get($"{Address}/plan/risk")));
        await ExpectStatus(204, week.Publish(plan, await week.ETag()));
        var risk = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan/risk?runs=100&helps=no"))).Json;
        Assert.Equal(100, (int)risk["launch"]!["runs"]!);
    }

    [Fact]
    public async Task Invalid_parameters_are_refused_with_reasons()
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
            ("helps=perhaps", "no-helps"), ("seconds=0", "no-seconds"), ("seconds=61", "no-seconds"), ("effort=0", "no-effort"),
            ("effort=2&seconds=2", "no-effort"),
        })
            Assert.Equal((400, code), await StatusAndCode(week.Lead.Get($"{address}?{query}")));
        var all = await week.Lead.Get($"{address}?runs=0&seed=-1&helps=perhaps");
        Assert.Equal((400, "no-runs"), (all.Status, all.Code));
        Assert.Contains("seed needs a whole number from 0 to 2147483647. helps needs yes or no.", all.Text);
        Assert.Equal(403, (await chain.As("cy", Role.Crew, "harbour-street").Get(address)).Status);
        Assert.Equal(406, (await week.Lead.Get(address, ("Accept", "image/png"))).Status);
    }

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
