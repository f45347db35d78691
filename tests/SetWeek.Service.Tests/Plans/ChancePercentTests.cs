using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

/// <summary>The chance that a request for a plan asks for, in place of the week's own.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ChancePercentTests(RunningService service)
{
    [Fact]
    public async Task A_plan_is_made_for_the_chance_of_its_request_and_states_the_goals_of_the_week()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening);

        var own = await Plan(week, """{"effort": 1}""");
        var surer = await Plan(week, """{"effort": 1, "chancePercent": 95}""");

        Assert.Equal([("leftOut", 0), ("hold", 0), ("cost", UncertainWeek.CheapestCost)], Goals(own["plan"]!));
        Assert.Equal([("leftOut", 0), ("hold", 0), ("cost", UncertainWeek.SurestCost)], Goals(surer["plan"]!));
        Assert.Equal((10_000, 40), ((int)own["chance"]!["holds"]!["runs"]!, (int)own["chance"]!["askedPercent"]!));
        Assert.InRange((double)own["chance"]!["holds"]!["share"]!,
            UncertainWeek.CheapestShare - 0.02, UncertainWeek.CheapestShare + 0.02);
        Assert.Equal((1, 40), ((double)surer["chance"]!["holds"]!["share"]!, (int)surer["chance"]!["askedPercent"]!));
    }

    /// <summary>Cleo alone is late in some of the weeks, so the page does not say 100 %.</summary>
    [Fact]
    public async Task The_page_of_the_published_plan_states_the_chance_that_was_measured()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening);
        await week.PlanAndPublish();
        var page = await ExpectStatus(200, week.Lead.Get($"{Address}/plan", ("Accept", "text/html")));
        var stated = Regex.Match(page.Text, @"The plan holds in ([0-9.]+) % of 10,000 simulated weeks");
        Assert.InRange(double.Parse(stated.Groups[1].Value, CultureInfo.InvariantCulture) / 100,
            UncertainWeek.CheapestShare - 0.02, UncertainWeek.CheapestShare + 0.02);
    }

    /// <summary>The week asks for 95 %. A plan made for 20 % states how far it falls short of that.</summary>
    [Fact]
    public async Task A_plan_made_for_less_states_its_shortfall_from_the_chance_of_the_week()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction,
            UncertainWeek.Opening.Replace("""{"chance": 40}""", """{"chance": 95}"""));

        var goals = Goals((await Plan(week, """{"effort": 1, "chancePercent": 20}"""))["plan"]!).ToDictionary();

        Assert.Equal(UncertainWeek.CheapestCost, goals["cost"]);
        // 256 scenarios have a standard error of 0.032.
        Assert.InRange(goals["hold"], 950 - 1000 * (UncertainWeek.CheapestShare + 0.13),
            950 - 1000 * (UncertainWeek.CheapestShare - 0.13));
    }

    /// <summary>
    /// The published plan is the cheapest. For 95 %, Ben has to come too: one added shift is 2 changes, and 110 minutes of him cost
    /// 23.84 with Cleo's shift as it was published. Shortening hers too would be a third change, which counts before the cost.
    /// </summary>
    [Fact]
    public async Task A_replan_is_made_for_the_chance_of_its_request()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening);
        await week.PlanAndPublish();

        var own = await Plan(week, """{"effort": 2}""");
        var surer = await Plan(week, """{"effort": 2, "chancePercent": 95}""");

        Assert.Equal([("leftOut", 0), ("hold", 0), ("changes", 0), ("cost", UncertainWeek.CheapestCost)], Goals(own["plan"]!));
        Assert.Equal([("leftOut", 0), ("hold", 0), ("changes", 2), ("cost", 6784)], Goals(surer["plan"]!));
        Assert.Equal((1, 40), ((double)surer["chance"]!["holds"]!["share"]!, (int)surer["chance"]!["askedPercent"]!));
        Assert.All(surer["options"]!.AsArray(), option => Assert.Equal(10_000, (int)option!["chance"]!["holds"]!["runs"]!));
        Assert.True(JsonNode.DeepEquals(surer["chance"], surer["options"]![0]!["chance"]));
    }

    [Theory]
    [InlineData("-1"), InlineData("101"), InlineData("80.5"), InlineData("\"95\""), InlineData("[80]")]
    public async Task An_invalid_chance_is_refused_with_its_pointer_and_no_plan_is_requested(string chance)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var before = await service.DocumentsOf(chain);

        var answer = await week.Lead.Post($"{Address}/plans", $$"""{"chancePercent": {{chance}}}""");

        Assert.Equal((400, "application/problem+json"), (answer.Status, answer.ContentType));
        Assert.Equal("/chancePercent", (string?)Assert.Single(answer.Json["errors"]!.AsArray())!["pointer"]);
        Assert.Equal(before, await service.DocumentsOf(chain));
    }

    private static async Task<JsonNode> Plan(FirstRain week, string body)
    {
        var plan = await week.Settled((await ExpectStatus(202, week.Lead.Post($"{Address}/plans", body))).Location!);
        Assert.Equal("ready", (string?)plan["state"]);
        return plan;
    }

    private static IEnumerable<(string, long)> Goals(JsonNode plan) =>
        plan["goals"]!.AsArray().Select(goal => ((string)goal!["goal"]!, (long)goal["value"]!));
}
