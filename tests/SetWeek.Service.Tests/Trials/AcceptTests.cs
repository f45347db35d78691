using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Trials;

/// <summary>A repair that is offered and a what-if that was tried become changes of the week.</summary>
[Collection(ServiceCollection.Name)]
public sealed class AcceptTests(RunningService service)
{
    private const string Limits = """{"seconds": 1, "workers": 1}""";

    /// <summary>Nobody knows when the forms come, and they belong to a must.</summary>
    private static readonly string WithoutForms = Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null");

    [Fact]
    public async Task A_repair_of_an_infeasible_week_is_accepted_and_the_week_gets_a_plan()
    {
        var week = await new FirstRain(service.NewChain()).Open(opening: WithoutForms);
        var (none, number) = await Repair(week, "kit");
        var tag = await week.ETag();
        var accepted = await ExpectStatus(202, week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", Limits,
            ("If-Match", tag), ("Idempotency-Key", "accept-1")));
        Assert.Contains("“Forms” is expected", (string?)Assert.Single(accepted.Json["changed"]!.AsArray()));
        Assert.Equal(accepted.ETag, await week.ETag());
        var plan = await week.Settled(accepted.Location!);
        Assert.Equal(("ready", (string?)accepted.Json["plan"]!["id"]), ((string?)plan["state"], (string?)plan["id"]));
        await ExpectStatus(204, week.Publish(plan, await week.ETag()));

        var again = await week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", Limits, ("If-Match", tag),
            ("Idempotency-Key", "accept-1"));
        Assert.Equal((202, accepted.Text), (again.Status, again.Text));
        var late = await week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", Limits, ("If-Match", await week.ETag()));
        Assert.Equal((409, "overtaken"), (late.Status, late.Code));
    }

    [Fact]
    public async Task A_repair_is_accepted_by_its_number_and_the_current_version()
    {
        var week = await new FirstRain(service.NewChain()).Open(opening: WithoutForms);
        var (none, number) = await Repair(week, "kit");
        foreach (var wrong in new[] { "0", "99", "first", "-1", "1.5", "99999999999" })
            Assert.Equal(404, (await week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{wrong}/accept", "{}",
                ("If-Match", await week.ETag()))).Status);
        Assert.Equal(404, (await week.Lead.Post($"{Address}/plans/no-such/repairs/1/accept", "{}", ("If-Match", await week.ETag()))).Status);
        Assert.Equal(428, (await week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", "{}")).Status);
        Assert.Equal(412, (await week.Lead.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", "{}", ("If-Match", "\"9\""))).Status);
        Assert.Equal(403, (await week.HeadOffice.Post($"{Address}/plans/{none["id"]}/repairs/{number}/accept", "{}",
            ("If-Match", await week.ETag()))).Status);
    }

    /// <summary>Only two people can paint; both are away on each night, so one more person is needed.</summary>
    [Fact]
    public async Task A_repair_that_brings_one_more_person_keeps_their_particulars_out_of_the_events()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var accepted = await ExpectStatus(200, week.Lead.Post($"{Address}/changes",
            """{"changes": [{"kind": "personNight", "night": "monday", "skill": "painting", "level": 2}]}""",
            ("If-Match", await week.ETag())));
        Assert.Equal("One more joined the crew.", (string?)accepted.Json["changed"]![0]);
        var file = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json;
        Assert.Equal("one-more.1", (string?)file["crew"]![3]!["id"]);
        Assert.DoesNotContain("One more", await service.EventsOf(chain));
        Assert.Equal(403, (await week.HeadOffice.Post($"{Address}/changes",
            """{"changes": [{"kind": "absence", "person": "p1", "night": "monday"}]}""", ("If-Match", await week.ETag()))).Status);
    }

    [Fact]
    public async Task A_what_if_is_accepted_in_one_step_with_a_plan()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        const string changes = """
            [{"kind": "kit", "kit": "forms", "eta": "2027-03-10T12:00"}, {"kind": "window", "night": "wednesday", "closes": "2027-03-11T01:00"},
             {"kind": "leaveOut", "display": "cycle.panel"}, {"op": "replace", "path": "/rules/minRestMinutes", "value": 600}]
            """;
        var tag = await week.ETag();
        await ExpectStatus(200, week.Lead.Post($"{Address}/what-if", $$"""{"changes": {{changes}}, "seconds": 1}"""));
        var accepted = await ExpectStatus(202,
            week.Lead.Post($"{Address}/changes", $$"""{"changes": {{changes}}, "plan": {{Limits}}}""", ("If-Match", tag)));
        Assert.Equal(4, accepted.Json["changed"]!.AsArray().Count);
        Assert.Equal(accepted.ETag, await week.ETag());
        var plan = await week.Settled(accepted.Location!);
        Assert.Equal("ready", (string?)plan["state"]);
        Assert.Equal(["cycle.panel"], plan["plan"]!["leftOut"]!.AsArray().Select(display => (string?)display));
        Assert.Equal("leaveOut", (string?)(await week.Week())["displays"]!.AsArray()
            .Single(display => (string?)display!["id"] == "cycle.panel")!["choice"]);

        // The same again: the week is so already.
        var again = await ExpectStatus(200, week.Lead.Post($"{Address}/changes", $$"""{"changes": {{changes}}}""", ("If-Match", tag)));
        Assert.Empty(again.Json["changed"]!.AsArray());
        Assert.Equal(accepted.ETag, await week.ETag());
    }

    [Fact]
    public async Task Changes_that_do_not_fit_are_refused_as_a_what_if_refuses_them_and_nothing_changes()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var (tag, before) = (await week.ETag(), await service.EventsOf(chain));
        foreach (var (status, pointer, changes) in new[]
            {
                (422, "/changes/0/kit", """[{"kind": "kit", "kit": "no-such", "eta": null}]"""),
                (422, "/changes/1/path", """[{"kind": "launch", "launch": "2027-03-13T09:00"}, {"op": "remove", "path": "/nights/9"}]"""),
                (422, "/changes", """[{"op": "replace", "path": "/currency", "value": "EUR"}]"""),
                (422, "/changes", """[{"op": "remove", "path": "/crew/2"}]"""),
                (422, "/changes", """[{"op": "add", "path": "/kits/0/lines/0/received", "value": 4}]"""),
                (400, "/changes", "[]"), (400, "/changes/0/kind", """[{"kind": "wonder"}]"""),
            })
        {
            var answer = await week.Lead.Post($"{Address}/changes", $$"""{"changes": {{changes}}}""", ("If-Match", tag));
            Assert.Equal((status, pointer), (answer.Status, (string?)answer.Json["errors"]![0]!["pointer"]));
        }
        Assert.Equal(412, (await week.Lead.Post($"{Address}/changes",
            """{"changes": [{"kind": "launch", "launch": "2027-03-13T09:00"}]}""", ("If-Match", "\"5\""))).Status);
        Assert.Equal(403, (await week.HeadOffice.Post($"{Address}/changes",
            """{"changes": [{"kind": "launch", "launch": "2027-03-13T09:00"}], "plan": {}}""", ("If-Match", tag))).Status);
        Assert.Equal(before, await service.EventsOf(chain));
    }

    /// <summary>A plan without a solution, and the number of its first repair of a kind, counted from 1.</summary>
    private static async Task<(JsonNode Plan, int Number)> Repair(FirstRain week, string kind)
    {
        var none = await week.Plan(state: "none");
        var repairs = none["plan"]!["repairs"]!.AsArray().Select(repair => (string?)repair!["kind"]).ToList();
        return (none, repairs.IndexOf(kind) + 1);
    }
}
