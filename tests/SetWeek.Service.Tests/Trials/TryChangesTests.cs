using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Trials;

[Collection(ServiceCollection.Name)]
public sealed class TryChangesTests(RunningService service)
{
    /// <summary>The forms arrive one night later, so they are set one night later.</summary>
    [Fact]
    public async Task Changes_are_planned_and_compared_and_nothing_is_stored()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var before = (await service.EventsOf(chain), (await week.Week()).ToJsonString());

        var answer = await Try(week, """{"kind": "kit", "kit": "forms", "eta": "2027-03-10T12:00"}""");

        Assert.Contains(PlannedTasks(answer["plan"]!), work => work == ("wednesday", "wall.forms"));
        Assert.Equal("asItStands", (string?)answer["difference"]!["against"]);
        Assert.Equal(["leftOut", "cost", "finish"],
            answer["difference"]!["goals"]!.AsArray().Select(goal => (string?)goal!["goal"]));
        Assert.Contains(answer["difference"]!["moved"]!.AsArray(), move => (string?)move!["nightNow"] == "wednesday");
        Assert.Equal(before, (await service.EventsOf(chain), (await week.Week()).ToJsonString()));
        Assert.Equal(404, (await week.Lead.Get($"{Address}/plan")).Status);
    }

    [Fact]
    public async Task With_a_published_plan_the_changes_are_compared_with_it()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();

        var answer = await Try(week, """{"kind": "absence", "person": "p2", "night": "tuesday"}""");

        Assert.Equal("published", (string?)answer["difference"]!["against"]);
        Assert.Equal(0, (long)answer["difference"]!["goals"]!.AsArray()
            .Single(goal => (string?)goal!["goal"] == "changes")!["was"]!);
        Assert.NotEmpty(answer["difference"]!["told"]!.AsArray());
    }

    /// <summary>The forms need two people after Monday, and the edits leave only one.</summary>
    [Fact]
    public async Task Changes_without_a_kind_are_JSON_patches_applied_in_order()
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
    public async Task Invalid_changes_are_refused_with_all_faults_and_pointers()
    {
        var week = await new FirstRain(service.NewChain()).Open();

        var answer = await week.Lead.Post($"{Address}/what-if", """
            {"changes": [{"kind": "kit", "kit": "no-such", "eta": null}, {"op": "remove", "path": "/nights/9"},
                         {"op": "replace", "path": "/launch", "value": "soon"},
                             {"kind": "absence", "person": "p1", "night": "tuesday"}]}
            """);

        Assert.Equal(422, answer.Status);
        Assert.Equal(["/changes/0/kit", "/changes/1/path", "/changes/3"],
            answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!));
        Assert.Equal(400, (await week.Lead.Post($"{Address}/what-if", """{"changes": []}""")).Status);
        Assert.Equal(400,
            (await week.Lead
                .Post($"{Address}/what-if", """{"changes": [{"kind": "wonder"}, {"op": "merge", "path": "/"}]}""")).Status);
    }

    /// <summary>
    /// Copying a task into itself 24 times nests too deeply for JSON. Doubling the crew 24 times would exhaust the memory.
    /// </summary>
    [Fact]
    public async Task Edits_that_enlarge_the_week_beyond_the_limit_are_refused()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        string[] enlarging =
        [
            """{"op": "copy", "from": "/tasks/0", "path": "/tasks/0/modes/0/deep"}""",
            """{"op": "copy", "from": "/rules", "path": "/crew/-"}, {"op": "copy", "from": "/crew", "path": "/rules/wide"}""",
        ];
        foreach (var edit in enlarging)
        {
            var answer = await week.Lead.Post($"{Address}/what-if",
                $$"""{"changes": [{{string.Join(',', Enumerable.Repeat(edit, 24))}}]}""");

            Assert.Equal(422, answer.Status);
        }
    }

    [Fact]
    public async Task An_invalid_week_is_attributed_to_the_change_that_made_it_invalid()
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
    public async Task A_display_whose_work_has_begun_cannot_be_left_out()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T21:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", """
            {"id": "tablet-1", "at": "2027-03-08T20:30:00+00:00", "task": "wall.paint", "stint": 1, "night": "monday"}
            """));

        var answer = await week.Lead.Post($"{Address}/what-if",
            """{"changes": [{"kind": "leaveOut", "display": "wall"}]}""");

        Assert.Equal((422, "/changes/0/display"), (answer.Status, (string?)answer.Json["errors"]![0]!["pointer"]));
        Assert.Contains("Work on “Painted wall” has begun", (string?)answer.Json["errors"]![0]!["detail"]);
    }

    [Fact]
    public async Task The_role_crew_may_not_try_changes()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        Assert.Equal(403,
            (await chain.As("p1", SetWeek.Service.Access.Role.Crew).Post($"{Address}/what-if", """{"changes": []}""")).Status);
    }

    private static async Task<JsonNode> Try(FirstRain week, string changes, string options = "") =>
        (await ExpectStatus(200, week.Lead.Post($"{Address}/what-if",
            $$"""{"changes": [{{changes}}], "seconds": 2{{options}}}"""))).Json;

    private static IEnumerable<(string?, string?)> PlannedTasks(JsonNode plan) => plan["nights"]!.AsArray()
        .SelectMany(night => night!["work"]!.AsArray().Select(work => ((string?)night["night"], (string?)work!["task"])));
}
