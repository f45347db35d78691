using System.Globalization;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Revisions;

/// <summary>An open week changes by one request for one thing.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ReviseWeekTests(RunningService service)
{
    /// <summary>The edits of one thing each: method, path, body, and where the week file then has which value.</summary>
    private static readonly (string Method, string Path, string? Body, string At, string Value)[] Edits =
    [
        ("PUT", "nights/monday", """
            {"opens": "2027-03-08T19:30", "closes": "2027-03-09T00:00",
             "bans": [{"trait": "noisy", "from": "2027-03-08T22:00", "to": "2027-03-09T00:00"}]}
            """, "nights/0/bans/0/trait", "noisy"),
        ("PUT", "nights/thursday", """{"opens": "2027-03-11T20:00", "closes": "2027-03-11T23:00"}""", "nights/3/id", "thursday"),
        ("DELETE", "nights/thursday", null, "nights/2/id", "wednesday"),
        ("PUT", "launch", """{"launch": "2027-03-12T10:00"}""", "launch", "2027-03-12T10:00"),
        ("PUT", "rules", """{"minPeople": 2, "keyholderPresent": true, "minRestMinutes": 600}""", "rules/minRestMinutes", "600"),
        ("PUT", "goals", """{"goals": ["leftOut", "cost"], "hold": {"chance": 70}}""", "hold/chance", "70"),
        ("PUT", "zones/window", """{"name": "Show window", "maxPeople": 3}""", "store/zones/0/maxPeople", "3"),
        ("PUT", "equipment/ladder", """{"count": 0}""", "store/equipment/0/count", "0"),
        ("PUT", "tasks/wall.wash", """
            {"name": "Wash the wall", "display": "wall", "zone": "window",
             "modes": [{"minutes": 20, "roles": [{"skill": "dressing", "people": 1}]}]}
            """, "tasks/3/name", "Wash the wall"),
        ("DELETE", "tasks/wall.wash", null, "tasks/2/id", "cycle.panel.fix"),
        ("PUT", "displays/cycle.panel", """{"name": "Cycle panel", "commitment": "want", "value": 30}""", "displays/1/value", "30"),
        ("PUT", "displays/cycle.panel/choice", """{"choice": "leaveOut"}""", "kits/1/name", "Held back"),
    ];

    [Fact]
    public async Task Each_edit_is_stored_once_and_repeated_without_harm()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (method, path, body, at, value) in Edits)
        {
            var tag = await week.ETag();
            var first = await ExpectStatus(204, week.Lead.Send(new HttpMethod(method), $"{Address}/{path}", body, ("If-Match", tag)));
            Assert.NotEqual(tag, first.ETag);
            Assert.Equal(value, await InWeekFile(week, at));
            var again = await ExpectStatus(204, week.Lead.Send(new HttpMethod(method), $"{Address}/{path}", body, ("If-Match", tag)));
            Assert.Equal((first.ETag, first.ETag), (again.ETag, await week.ETag()));
        }
        Assert.Equal($"\"{1 + Edits.Length}\"", await week.ETag());
    }

    [Fact]
    public async Task An_edit_needs_the_current_version_and_the_right_role()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (method, path, body, _, _) in Edits)
        {
            Assert.Equal(428, (await week.Lead.Send(new HttpMethod(method), $"{Address}/{path}", body)).Status);
            Assert.Equal(403, (await chain.As("p1", Role.Crew, "harbour-street")
                .Send(new HttpMethod(method), $"{Address}/{path}", body, ("If-Match", "\"1\""))).Status);
        }
        Assert.Equal(412, (await week.Lead.Put($"{Address}/launch", """{"launch": "2027-03-12T11:00"}""", ("If-Match", "\"7\""))).Status);
        await ExpectStatus(204, week.HeadOffice.Put($"{Address}/launch", """{"launch": "2027-03-12T11:00"}""", ("If-Match", "\"1\"")));
    }

    [Fact]
    public async Task An_edit_that_makes_the_week_invalid_is_refused_with_its_place_in_the_body()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var tag = await week.ETag();
        var backwards = await week.Lead.Put($"{Address}/nights/monday",
            """{"opens": "2027-03-08T20:00", "closes": "2027-03-08T19:00"}""", ("If-Match", tag));
        Assert.Equal((422, "/closes"), (backwards.Status, Pointer(backwards)));
        var unknown = await week.Lead.Put($"{Address}/tasks/wall.wash", """
            {"name": "Wash", "display": "wall", "zone": "cellar", "modes": [{"minutes": 20}]}
            """, ("If-Match", tag));
        Assert.Equal((422, "/zone"), (unknown.Status, Pointer(unknown)));
        var overlapping = await week.Lead.Put($"{Address}/nights/monday",
            """{"opens": "2027-03-08T20:00", "closes": "2027-03-09T21:00"}""", ("If-Match", tag));
        Assert.Equal((422, ""), (overlapping.Status, Pointer(overlapping)));
        Assert.Contains("/nights/1/opens of the resulting week", (string?)overlapping.Json["errors"]![0]!["detail"]);
        var alternate = await week.Lead.Put($"{Address}/displays/wall/choice", """{"choice": "useAlternate"}""", ("If-Match", tag));
        Assert.Equal("no-alternate", alternate.Code);
        Assert.Equal(404, (await week.Lead.Put($"{Address}/displays/moon/choice", """{"choice": "build"}""", ("If-Match", tag))).Status);
        Assert.Equal(tag, await week.ETag());
    }

    [Fact]
    public async Task What_a_task_needs_is_not_dropped()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var file = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json;
        var task = file["tasks"]!.AsArray().Single(task => (string?)task!["id"] == "wall.paint")!.AsObject();
        task.Remove("id");
        task["due"] = "monday";
        await ExpectStatus(204, week.Lead.Put($"{Address}/tasks/wall.paint", task.ToJsonString(), ("If-Match", await week.ETag())));
        var refused = await week.Lead.Send(HttpMethod.Delete, $"{Address}/nights/monday", (string?)null, ("If-Match", await week.ETag()));
        Assert.Equal((409, "still-needed"), (refused.Status, refused.Code));
        Assert.Contains("/tasks/0/due of the resulting week", (string?)refused.Json["because"]![0]);
    }

    /// <summary>Every answer that contradicts begun work says so and changes nothing; a what-if says it too.</summary>
    [Fact]
    public async Task Begun_work_stays()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", """
            {"id": "tablet-1", "at": "2027-03-08T20:30:00+00:00", "task": "wall.paint", "stint": 1, "night": "monday"}
            """));
        var tag = await week.ETag();
        foreach (var (method, path, body) in new[]
            { ("DELETE", "nights/monday", null), ("DELETE", "tasks/wall.paint", null),
              ("PUT", "displays/wall/choice", """{"choice": "leaveOut"}""") })
        {
            var refused = await week.Lead.Send(new HttpMethod(method), $"{Address}/{path}", body, ("If-Match", tag));
            Assert.Equal((409, "work-begun"), (refused.Status, refused.Code));
            Assert.NotEmpty(refused.Json["because"]!.AsArray());
        }
        const string withoutMonday = """
            {"changes": [{"op": "remove", "path": "/nights/0"}, {"op": "remove", "path": "/crew/0/available/0"},
                {"op": "remove", "path": "/crew/1/available/0"}, {"op": "remove", "path": "/crew/2/available/0"}]}
            """;
        var tried = await week.Lead.Post($"{Address}/what-if", withoutMonday);
        Assert.Equal(422, tried.Status);
        Assert.Contains("which the week no longer has", (string?)tried.Json["errors"]![0]!["detail"]);
        Assert.Equal(422, (await week.Lead.Post($"{Address}/changes", withoutMonday, ("If-Match", tag))).Status);
        Assert.Equal(tag, await week.ETag());
    }

    [Fact]
    public async Task The_week_names_for_each_task_its_direction_or_its_author()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(204, week.Lead.Put($"{Address}/tasks/wall.wash", Edits.Single(edit => edit.Path == "tasks/wall.wash"
            && edit.Method == "PUT").Body!, ("If-Match", await week.ETag())));
        await ExpectStatus(200, week.HeadOffice.Post($"{Address}/changes",
            """{"changes": [{"kind": "minutes", "task": "wall.paint", "minutes": 45}]}""", ("If-Match", await week.ETag())));
        var tasks = (await week.Week())["tasks"]!.AsArray().ToDictionary(task => (string)task!["id"]!, task => task!);
        Assert.Equal(("first-rain", 1, null, "head"), Origin(tasks["wall.paint"]));
        Assert.Equal(("first-rain", 1, "lena", null), Origin(tasks["wall.wash"]));
        Assert.Equal(("first-rain", 1, null, null), Origin(tasks["wall.forms"]));
        Assert.Equal(("wall.paint", null), ((string?)tasks["wall.paint"]["recipe"], (string?)tasks["wall.wash"]["recipe"]));
    }

    /// <summary>
    /// The later version drops the panel, shortens the forms and adds a sign. The paint was made longer in the store, and that
    /// stays, since both versions say the same of it.
    /// </summary>
    [Fact]
    public async Task A_later_version_of_the_direction_is_taken_into_an_open_week()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(200, week.Lead.Post($"{Address}/changes",
            """{"changes": [{"kind": "minutes", "task": "wall.paint", "minutes": 75}]}""", ("If-Match", await week.ETag())));
        var later = JsonNode.Parse(Direction)!;
        var panel = later["displays"]!.AsArray().Single(display => (string?)display!["id"] == "cycle.panel")!;
        panel["id"] = "sign";
        panel["name"] = "Sign";
        later["displays"]![1]!.AsObject().Remove("alternate");
        var fix = later["tasks"]!.AsArray().Single(task => (string?)task!["id"] == "cycle.panel.fix")!;
        (fix["id"], fix["display"], fix["name"]) = ("sign.fix", "sign", "Fix the sign");
        later["tasks"]!.AsArray().Single(task => (string?)task!["id"] == "wall.forms")!["modes"]![0]!["minutes"] = 30;
        await ExpectStatus(204, week.HeadOffice.Put("/directions/first-rain", later.ToJsonString(), ("If-Match", "\"1\"")));

        var taken = (await ExpectStatus(200, week.HeadOffice.Post($"{Address}/direction", "{}", ("If-Match", await week.ETag())))).Json;
        Assert.Equal(2, (int)taken["directionVersion"]!);
        Assert.Empty(taken["kept"]!.AsArray());
        var file = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json;
        var minutes = file["tasks"]!.AsArray().ToDictionary(task => (string)task!["id"]!, task => (int)task!["modes"]![0]!["minutes"]!);
        Assert.Equal(["sign.fix", "wall.forms", "wall.paint"], minutes.Keys.Order());
        Assert.Equal((75, 30), (minutes["wall.paint"], minutes["wall.forms"]));
        var tasks = (await week.Week())["tasks"]!.AsArray().ToDictionary(task => (string)task!["id"]!, task => task!);
        Assert.Equal((1, 2, 2), ((int)tasks["wall.paint"]["version"]!, (int)tasks["wall.forms"]["version"]!, (int)tasks["sign.fix"]["version"]!));

        var tag = await week.ETag();
        await ExpectStatus(200, week.HeadOffice.Post($"{Address}/direction", "{}", ("If-Match", "\"1\"")));
        Assert.Equal(tag, await week.ETag());
        Assert.Equal(404, (await week.HeadOffice.Post($"{Address}/direction", """{"version": 3}""", ("If-Match", tag))).Status);
        Assert.Equal("later-already", (await week.HeadOffice.Post($"{Address}/direction", """{"version": 1}""", ("If-Match", tag))).Code);
    }

    [Fact]
    public async Task Head_office_hears_of_changes_and_not_of_people()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (method, path, body, _, _) in Edits)
            await ExpectStatus(204, week.Lead.Send(new HttpMethod(method), $"{Address}/{path}", body, ("If-Match", await week.ETag())));
        await ExpectStatus(201, week.Lead.Post($"{Address}/pins", """{"person": "p1", "night": "monday", "off": true}""",
            ("If-Match", await week.ETag())));
        var feed = await ExpectStatus(200, week.HeadOffice.Get("/feed"));
        var types = feed.Json.AsArray().Select(e => (string)e!["type"]!).ToList();
        Assert.Equal(["night-set", "night-set", "night-dropped", "launch-moved", "rules-set", "goals-set", "zone-set", "equipment-set",
            "tasks-revised", "tasks-revised", "display-set", "display-choice-set"],
            types.Skip(types.IndexOf("setweek.week-opened.v1") + 1).Select(type => type.Split('.')[1]));
        Assert.All(["lena", "\"p1\"", "Asha"], name => Assert.DoesNotContain(name, feed.Text));
    }

    private static (string?, int, string?, string?) Origin(JsonNode task) =>
        ((string?)task["direction"], (int)task["version"]!, (string?)task["author"], (string?)task["revisedBy"]);

    private static string? Pointer(ApiResponse answer) => (string?)answer.Json["errors"]![0]!["pointer"];

    private static async Task<string> InWeekFile(FirstRain week, string at) =>
        at.Split('/').Aggregate((await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json,
            (node, part) => node is JsonArray list ? list[int.Parse(part, CultureInfo.InvariantCulture)]! : node[part]!).ToString();
}
