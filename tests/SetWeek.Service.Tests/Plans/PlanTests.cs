using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Plans;

[Collection(ServiceCollection.Name)]
public sealed class PlanTests(RunningService service)
{
    [Fact]
    public async Task A_repeated_request_with_its_key_gives_one_plan()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        const string body = """{"seconds": 1, "workers": 1}""";
        var first = await week.Lead.Post($"{Address}/plans", body, ("Idempotency-Key", "ask-1"));
        var again = await week.Lead.Post($"{Address}/plans", body, ("Idempotency-Key", "ask-1"));
        Assert.Equal((202, first.Location, first.Text), (again.Status, again.Location, again.Text));
        Assert.Equal(422, (await week.Lead.Post($"{Address}/plans", """{"seconds": 2}""", ("Idempotency-Key", "ask-1"))).Status);
        Assert.Equal("ready", (string?)(await week.Settled(first.Location!))["state"]);
    }

    [Fact]
    public async Task An_infeasible_week_gets_a_conflict_and_cannot_be_published()
    {
        // The forms need a kit without an arrival time, and they belong to a must.
        var week = await new FirstRain(service.NewChain()).Open(opening: Opening.Replace("\"eta\": \"2027-03-08T12:00\"",
            "\"eta\": null"));
        var none = await week.Plan(state: "none");
        Assert.Equal("infeasible", (string?)none["plan"]!["status"]);
        Assert.Contains(none["plan"]!["conflict"]!.AsArray(), breach => (string?)breach!["rule"] == "kit");
        Assert.Contains(none["plan"]!["repairs"]!.AsArray(), repair => (string?)repair!["kind"] == "kit");
        Assert.Equal("plan-not-ready", (await week.Publish(none, await week.ETag())).Code);
    }

    [Fact]
    public async Task A_requested_plan_shows_its_best_values_and_bounds()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var best = (await week.Plan())["best"]!;
        Assert.True((long)best["afterMilliseconds"]! >= 0);
        Assert.Equal(["leftOut", "cost", "finish"], best["goals"]!.AsArray().Select(goal => (string?)goal!["goal"]));
    }

    [Fact]
    public async Task A_replan_lists_changes_notifications_and_cost_and_a_first_plan_none()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var first = await week.Plan();
        Assert.Null(first["changes"]);
        Assert.Equal(409, (await week.Lead.Get($"{Address}/plans/{first["id"]}/changes")).Status);
        await ExpectStatus(204, week.Publish(first, await week.ETag()));
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        var replan = await week.Plan("2027-03-07T12:00");
        var changes = (await ExpectStatus(200, week.Lead.Get($"{Address}/plans/{replan["id"]}/changes"))).Json;
        Assert.True(JsonNode.DeepEquals(changes, replan["changes"]));
        Assert.Contains(changes["moved"]!.AsArray(), move => (string?)move!["now"]!["task"] == "wall.forms"
            && (string?)move["nightNow"] == "wednesday");
        Assert.Contains(changes["told"]!.AsArray().SelectMany(told => told!["sentences"]!.AsArray()), sentence =>
            ((string)sentence!).Contains("Wednesday 10 March"));
        Assert.Equal((long)first["plan"]!["goals"]!.AsArray().Single(goal => (string?)goal!["goal"] == "cost")!["value"]!,
            (long)changes["cost"]!["was"]!);
    }

    [Fact]
    public async Task A_plan_that_starts_before_the_time_of_publishing_is_refused()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/expected", """{"eta": "2027-03-08T13:00"}"""));
        var replan = await week.Plan("2027-03-07T12:00");
        week.Clock.MoveTo("2027-03-09T21:00");
        var late = await week.Publish(replan, await week.ETag());
        Assert.Equal((409, "breaks-rules"), (late.Status, late.Code));
        Assert.NotEmpty(late.Json["because"]!.AsArray());
        week.Clock.MoveTo("2027-03-07T13:00");
        await ExpectStatus(204, week.Publish(replan, await week.ETag()));
    }

    [Fact]
    public async Task No_request_can_move_the_clock()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = await week.Plan();
        foreach (var answer in new[]
        {
            await week.Lead.Post($"{Address}/plans", """{"now": "2027-03-08T18:00"}"""),
            await week.Publish(plan, await week.ETag(), """{"now": "2027-03-08T18:00"}"""),
            await week.Lead.Post($"{Address}/what-if",
                """{"changes": [{"kind": "leaveOut", "display": "wall"}], "now": "2027-03-08T18:00"}"""),
            await week.Lead.Post($"{Address}/certainty", """{"now": "2027-03-08T18:00"}"""),
        })
        {
            Assert.Equal((400, "/now"), (answer.Status, (string?)Assert.Single(answer.Json["errors"]!.AsArray())!["pointer"]));
            Assert.Contains("the service's clock", (string?)answer.Json["errors"]![0]!["detail"]);
        }
        Assert.Equal("2027-03-05T12:00", (string?)(await week.Plan())["now"]);
    }

    [Fact]
    public async Task A_plan_is_found_only_in_its_week_and_its_store()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plans/no-such-plan")).Status);
        Assert.Equal(404, (await week.Lead.Get($"/weeks/no-such-week/plans/{plan["id"]}")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plan")).Status);
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Get($"{Address}/plans/{plan["id"]}")).Status);
        Assert.Equal(403, (await chain.As("cy", Role.Crew, "harbour-street").Post($"{Address}/plans", "{}")).Status);
        Assert.Equal(404, (await service.NewChain().HeadOffice.Get($"{Address}/plans/{plan["id"]}")).Status);
        Assert.Equal(406, (await week.Lead.Get($"{Address}/plans/{plan["id"]}", ("Accept", "image/png"))).Status);
    }
}
