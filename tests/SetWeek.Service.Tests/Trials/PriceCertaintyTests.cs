using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Trials;

[Collection(ServiceCollection.Name)]
public sealed class PriceCertaintyTests(RunningService service)
{
    private const string Certainty = $"{Address}/certainty";

    [Fact]
    public async Task The_cheapest_and_the_surest_plan_are_offered_and_nothing_is_stored()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(UncertainWeek.Direction, UncertainWeek.Opening);
        var before = (await service.EventsOf(chain), await service.DocumentsOf(chain));

        var answer = (await ExpectStatus(200, week.Lead.Post(Certainty, """{"effort": 5}"""))).Json;

        var plans = answer["plans"]!.AsArray();
        Assert.Equal([UncertainWeek.CheapestCost, UncertainWeek.SurestCost], plans.Select(plan => (long)plan!["cost"]!));
        Assert.Equal(0, (int)plans[0]!["askedPercent"]!);
        Assert.Equal([10_000, 10_000], plans.Select(plan => (int)plan!["chance"]!["holds"]!["runs"]!));
        // Four standard errors of 10,000 runs.
        Assert.InRange((double)plans[0]!["chance"]!["holds"]!["share"]!,
            UncertainWeek.CheapestShare - 0.02, UncertainWeek.CheapestShare + 0.02);
        Assert.Equal(10_000, (int)plans[1]!["chance"]!["holds"]!["held"]!);
        Assert.All(plans, plan => Assert.Equal([("leftOut", 0), ("hold", 0), ("cost", (long)plan!["cost"]!)],
            plan["plan"]!["goals"]!.AsArray().Select(goal => ((string)goal!["goal"]!, (long)goal["value"]!))));
        Assert.Equal("The surest of these plans holds in 100.0 % of 10,000 simulated weeks (95 % interval: 100.0 to 100.0 %); "
            + "the week asks for 40 %.", (string?)answer["sentence"]);
        Assert.Null(answer["withoutPlan"]);
        Assert.Equal(before, (await service.EventsOf(chain), await service.DocumentsOf(chain)));
    }

    [Fact]
    public async Task A_lead_sees_the_price_of_each_chance_and_asks_for_one_with_the_page_alone()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(UncertainWeek.Direction, UncertainWeek.Opening);
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead.Api.Get(Certainty, ("Accept", "text/html")));
        Assert.Contains("beside the 40 % that", page);

        var refused = await lead.PressButton(page, "Plan for several chances", ("seconds:number", "61"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("value=\"61\"", refused.Text);
        var priced = await lead.PressButton(page, "Plan for several chances", ("seconds:number", "5"));
        Assert.Equal(200, priced.Status);
        page = System.Net.WebUtility.HtmlDecode(priced.Text);
        var (cheapest, surest) = (UncertainWeek.CheapestCost, UncertainWeek.SurestCost);
        Assert.Contains($"{Pounds(cheapest)} in wages: the plan holds in ", page);
        Assert.Contains($"{Pounds(surest - cheapest)} more, {Pounds(surest)} in wages: the plan holds in 100.0 % of simulated weeks. "
            + "This is the surest.", page);
        Assert.True(page.IndexOf("<ol", StringComparison.Ordinal) < page.IndexOf("<table", StringComparison.Ordinal)); // the list first

        var asked = await lead.PressButton(page, "Ask for a plan whatever the chance");
        Assert.Equal(303, asked.Status);
        await week.Settled(asked.Location!);
        Assert.Contains($"href=\"{Certainty}\"", await Page(lead.Api.Get(asked.Location!, ("Accept", "text/html"))));
        Assert.DoesNotContain("Ask for a plan", await Page(chain.HeadOffice.Post(Certainty, """{"effort": 2}""", ("Accept", "text/html"))));
    }

    private static string Pounds(long pence) => $"£{(pence / 100m).ToString("N2", System.Globalization.CultureInfo.InvariantCulture)}";

    private static async Task<string> Page(Task<ApiResponse> request)
    {
        var answer = await ExpectStatus(200, request);
        Assert.Equal("text/html", answer.ContentType);
        return System.Net.WebUtility.HtmlDecode(answer.Text);
    }

    /// <summary>Cleo is alone, and the night is 20 minutes shorter.</summary>
    [Fact]
    public async Task A_week_that_hardly_ever_holds_gets_its_plan_and_is_told_so()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening
            .Replace(UncertainWeek.Ben, "").Replace("""{"chance": 40}""", """{"chance": 99}""")
            .Replace("2027-03-09T00:00", "2027-03-08T23:40"));

        var answer = (await ExpectStatus(200, week.Lead.Post(Certainty, """{"effort": 2}"""))).Json;

        var only = Assert.Single(answer["plans"]!.AsArray())!;
        Assert.InRange((double)only["chance"]!["holds"]!["share"]!, 
            UncertainWeek.ShorterShare - 0.02, UncertainWeek.ShorterShare + 0.02);
        Assert.StartsWith("None of these plans reaches the 99 % that the week asks for. The surest holds in ",
            (string?)answer["sentence"]);
    }

    /// <summary>Nobody knows when a kit comes that a must needs.</summary>
    [Fact]
    public async Task An_infeasible_week_gets_no_plans_and_the_conflict_with_its_repairs()
    {
        var week = await new FirstRain(service.NewChain())
            .Open(opening: Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null"));

        var answer = (await ExpectStatus(200, week.Lead.Post(Certainty, """{"seconds": 2, "workers": 1}"""))).Json;

        Assert.Empty(answer["plans"]!.AsArray());
        Assert.StartsWith("No plan exists: ", (string?)answer["sentence"]);
        var none = answer["withoutPlan"]!;
        Assert.Equal("infeasible", (string?)none["status"]);
        Assert.Contains(none["conflict"]!.AsArray(), breach => (string?)breach!["rule"] == "kit");
        Assert.Contains(none["repairs"]!.AsArray(), repair => (string?)repair!["kind"] == "kit");
    }

    /// <summary>Work has begun, so each plan is one of what is left of the week.</summary>
    [Fact]
    public async Task After_publication_the_rest_of_the_week_is_planned_from_now_on()
    {
        var week = await new FirstRain(service.NewChain()).Open(UncertainWeek.Direction, UncertainWeek.Opening);
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", """
            {"id": "tablet-1", "at": "2027-03-08T20:00:00+00:00", "task": "rack.left", "stint": 1, "night": "monday"}
            """));

        var answer = (await ExpectStatus(200,
            week.Lead.Post(Certainty, """{"effort": 5}"""))).Json;

        var plans = answer["plans"]!.AsArray();
        Assert.NotEmpty(plans);
        Assert.All(plans, plan =>
        {
            Assert.Contains(plan!["plan"]!["goals"]!.AsArray(), goal => (string?)goal!["goal"] == "changes");
            Assert.Contains(plan["plan"]!["nights"]!.AsArray().SelectMany(night => night!["work"]!.AsArray()), work =>
                (string?)work!["task"] == "rack.left" && ((string)work["from"]!).StartsWith("2027-03-08T20:00:00", StringComparison.Ordinal));
        });
    }

    [Theory]
    [InlineData("""{"seconds": 0}""", "/seconds")]
    [InlineData("""{"seconds": 61}""", "/seconds")]
    [InlineData("""{"seconds": "ten"}""", "/seconds")]
    [InlineData("""{"effort": 61}""", "/effort")]
    [InlineData("""{"seconds": 1, "effort": 1}""", "/effort")]
    [InlineData("""{"workers": 0}""", "/workers")]
    [InlineData("""{"workers": 9}""", "/workers")]
    [InlineData("""{"seed": -1}""", "/seed")]
    [InlineData("""{"seed": 2147483648}""", "/seed")]
    [InlineData("""{"now": "tonight"}""", "/now")]
    [InlineData("""{"now": "2027-03-08T18:00:00Z"}""", "/now")]
    [InlineData("""{"chancePercent": 80}""", "/chancePercent")]
    [InlineData("""{"seconds": 0, "workers": 9, "wonder": 1}""", "/seconds", "/wonder", "/workers")]
    public async Task Wrong_input_is_refused_with_all_pointers(string body, params string[] pointers)
    {
        var week = await new FirstRain(service.NewChain()).Open();

        var answer = await week.Lead.Post(Certainty, body);

        Assert.Equal((400, "application/problem+json"), (answer.Status, answer.ContentType));
        Assert.Equal(pointers, answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!).Order(StringComparer.Ordinal));
        Assert.All(answer.Json["errors"]!.AsArray(), fault => Assert.NotEqual("", (string?)fault!["detail"]));
    }

    [Fact]
    public async Task An_unknown_week_is_404()
    {
        var answer = await service.NewChain().HeadOffice.Post("/weeks/no-such-week/certainty", "{}");
        Assert.Equal((404, "application/problem+json"), (answer.Status, answer.ContentType));
        Assert.Contains("no-such-week", (string?)answer.Json["detail"]);
    }

    [Fact]
    public async Task A_lead_of_the_store_and_head_office_may_ask_and_nobody_else()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        const string body = """{"effort": 1}""";
        Assert.Equal(200, (await chain.HeadOffice.Post(Certainty, body)).Status);
        Assert.Equal((403, "other-role"), await StatusAndCode(chain.As("p1", Role.Crew, "harbour-street").Post(Certainty, body)));
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Post(Certainty, body)).Status);
        Assert.Equal(404, (await service.NewChain().HeadOffice.Post(Certainty, body)).Status);
        Assert.Equal(401, (await chain.WithToken("nonsense").Post(Certainty, body)).Status);
    }

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var answer ? (answer.Status, answer.Code) : default;
}
