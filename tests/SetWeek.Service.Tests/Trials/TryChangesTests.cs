using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Trials;

[Collection(ServiceCollection.Name)]
public sealed class TryChangesTests(RunningService service)
{
    /// <summary>The forms come a night later: a night later they are set.</summary>
    [Fact]
    public async Task Changes_are_planned_and_compared_and_nothing_is_stored()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var before = (await service.EventsOf(chain), (await week.Week()).ToJsonString());

        var answer = await Try(week, """{"kind": "kit", "kit": "forms", "eta": "2027-03-10T12:00"}""");

        Assert.Contains(Works(answer["plan"]!), work => work == ("wednesday", "wall.forms"));
        Assert.Equal("asItStands", (string?)answer["difference"]!["against"]);
        Assert.Equal(["leftOut", "cost", "finish"],
            answer["difference"]!["goals"]!.AsArray().Select(goal => (string?)goal!["goal"]));
        Assert.Contains(answer["difference"]!["moved"]!.AsArray(), move => (string?)move!["nightNow"] == "wednesday");
        Assert.Equal(before, (await service.EventsOf(chain), (await week.Week()).ToJsonString()));
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plan")).Status);
    }

    [Fact]
    public async Task Once_a_plan_is_published_it_is_what_the_changes_are_compared_with()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();

        var answer = await Try(week, """{"kind": "absence", "person": "p2", "night": "tuesday"}""",
            """, "now": "2027-03-07T12:00" """);

        Assert.Equal("published", (string?)answer["difference"]!["against"]);
        Assert.Equal(0, (long)answer["difference"]!["goals"]!.AsArray()
            .Single(goal => (string?)goal!["goal"] == "changes")!["was"]!);
        Assert.NotEmpty(answer["difference"]!["told"]!.AsArray());
    }

    /// <summary>Two dress the forms, after Monday; only one is left who can then.</summary>
    [Fact]
    public async Task Whatever_has_no_kind_is_edited_in_the_week_file_in_the_order_given()
    {
        var week = await new FirstRain(service.NewChain()).Open();

        var answer = await Try(week, """
            {"op": "test", "path": "/crew/1/id", "value": "p2"}, {"op": "replace", "path": "/crew/1/available", "value": []},
            {"op": "remove", "path": "/crew/0/available/2"}, {"op": "remove", "path": "/crew/0/available/1"}
            """);

        Assert.Equal("infeasible", (string?)answer["plan"]!["status"]);
        Assert.Null(answer["difference"]);
    }

    [Fact]
    public async Task What_cannot_be_tried_is_refused_with_every_reason_and_its_place()
    {
        var week = await new FirstRain(service.NewChain()).Open();

        var answer = await week.Lead.Post($"{Address}/what-if", """
            {"changes": [{"kind": "kit", "kit": "no-such", "eta": null}, {"op": "remove", "path": "/nights/9"},
                         {"op": "replace", "path": "/launch", "value": "soon"}, {"kind": "absence", "person": "p1", "night": "tuesday"}]}
            """);

        Assert.Equal(422, answer.Status);
        Assert.Equal(["/changes/0/kit", "/changes/1/path", "/changes/3"],
            answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!));
        Assert.Equal(400, (await week.Lead.Post($"{Address}/what-if", """{"changes": []}""")).Status);
        Assert.Equal(400,
            (await week.Lead
                .Post($"{Address}/what-if", """{"changes": [{"kind": "wonder"}, {"op": "merge", "path": "/"}]}""")).Status);
    }

    /// <summary>A dozen copies of a task into itself nest deeper than JSON may; two dozen doublings of the crew fill any memory.</summary>
    [Fact]
    public async Task Edits_that_pile_the_week_up_are_refused()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        string[] piling =
        [
            """{"op": "copy", "from": "/tasks/0", "path": "/tasks/0/modes/0/deep"}""",
            """{"op": "copy", "from": "/rules", "path": "/crew/-"}, {"op": "copy", "from": "/crew", "path": "/rules/wide"}""",
        ];
        foreach (var edit in piling)
        {
            var answer = await week.Lead.Post($"{Address}/what-if",
                $$"""{"changes": [{{string.Join(',', Enumerable.Repeat(edit, 24))}}]}""");

            Assert.Equal(422, answer.Status);
        }
    }

    [Fact]
    public async Task A_week_that_is_unfit_in_the_end_is_so_since_a_step()
    {
        var week = await new FirstRain(service.NewChain()).Open();

        var answer = await week.Lead.Post($"{Address}/what-if", """
            {"changes": [{"kind": "absence", "person": "p1", "night": "tuesday"}, {"op": "remove", "path": "/crew"},
                         {"op": "add", "path": "/gridMinutes", "value": 5}]}
            """);

        Assert.Equal(422, answer.Status);
        Assert.Equal("/changes/1", (string?)answer.Json["errors"]![0]!["pointer"]);
    }

    [Fact]
    public async Task A_display_that_work_has_begun_on_is_not_tried_away()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        await Must(204, week.Lead.Post($"{Address}/work/started", """
            {"id": "tablet-1", "at": "2027-03-08T20:30:00+00:00", "task": "wall.paint", "stint": 1, "night": "monday"}
            """));

        var answer = await week.Lead.Post($"{Address}/what-if",
            """{"changes": [{"kind": "leaveOut", "display": "wall"}], "now": "2027-03-08T21:00"}""");

        Assert.Equal((422, "/changes/0/display"), (answer.Status, (string?)answer.Json["errors"]![0]!["pointer"]));
        Assert.Contains("Work on “Painted wall” has begun", (string?)answer.Json["errors"]![0]!["detail"]);
    }

    [Fact]
    public async Task The_crew_do_not_try_changes()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        Assert.Equal(403,
            (await chain.As("p1", SetWeek.Service.Access.Role.Crew).Post($"{Address}/what-if", """{"changes": []}""")).Status);
    }

    private static async Task<JsonNode> Try(FirstRain week, string changes, string more = "") =>
        (await Must(200, week.Lead.Post($"{Address}/what-if", $$"""{"changes": [{{changes}}], "seconds": 2{{more}}}"""))).Json;

    private static IEnumerable<(string?, string?)> Works(JsonNode plan) => plan["nights"]!.AsArray()
        .SelectMany(night => night!["work"]!.AsArray().Select(work => ((string?)night["night"], (string?)work!["task"])));
}
