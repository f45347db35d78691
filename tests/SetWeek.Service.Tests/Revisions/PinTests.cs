using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Revisions;

[Collection(ServiceCollection.Name)]
public sealed class PinTests(RunningService service)
{
    [Fact]
    public async Task A_pin_is_added_shown_and_removed_and_each_of_it_only_once()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var tag = await week.ETag();
        const string pin = """{"task": "cycle.panel.fix", "night": "tuesday", "people": ["p3"]}""";
        var added = await ExpectStatus(201, week.Lead.Post($"{Address}/pins", pin, ("If-Match", tag)));
        var again = await ExpectStatus(201, week.Lead.Post($"{Address}/pins", pin, ("If-Match", tag)));
        Assert.Equal((added.Text, added.Location, added.ETag), (again.Text, again.Location, again.ETag));
        Assert.Equal($"{Address}/pins/pin-1", added.Location);
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(
            """[{"id": "pin-1", "task": "cycle.panel.fix", "night": "tuesday", "people": ["p3"]}]"""), (await week.Week())["pins"]));
        var nights = (await week.Plan())["plan"]!["nights"]!.AsArray();
        Assert.Contains(nights.Single(night => (string?)night!["night"] == "tuesday")!["work"]!.AsArray(),
            work => (string?)work!["task"] == "cycle.panel.fix" && (string?)work["people"]![0]!["person"] == "p3");

        await ExpectStatus(204, Remove(week, "pin-1", added.ETag!));
        Assert.Empty((await week.Week())["pins"]!.AsArray());
        await ExpectStatus(204, Remove(week, "pin-1", added.ETag!));
        Assert.Equal(404, (await Remove(week, "pin-9", await week.ETag())).Status);
        var next = await ExpectStatus(201, week.Lead.Post($"{Address}/pins", pin, ("If-Match", await week.ETag())));
        Assert.Equal("pin-2", (string?)next.Json["id"]);
    }

    /// <summary>The forms follow the paint, which dries for four hours, so they cannot be set on Monday.</summary>
    [Fact]
    public async Task A_pin_that_leaves_no_plan_is_in_the_conflict()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(201, week.Lead.Post($"{Address}/pins", """{"task": "wall.forms", "night": "monday"}""",
            ("If-Match", await week.ETag())));
        var none = await week.Plan(state: "none");
        Assert.Contains(none["plan"]!["conflict"]!.AsArray(), breach => (string?)breach!["rule"] == "pin");
    }

    [Fact]
    public async Task A_pin_of_what_the_week_does_not_have_is_refused_with_its_place()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var answer = await week.Lead.Post($"{Address}/pins", """{"task": "moon.hang", "people": ["p1", "p9"]}""",
            ("If-Match", await week.ETag()));
        Assert.Equal(422, answer.Status);
        Assert.Equal(["/task", "/people/1"], answer.Json["errors"]!.AsArray().Select(fault => (string?)fault!["pointer"]));
    }

    /// <summary>Absent people lapse their pins; the pin is still in the week and can be taken away.</summary>
    [Fact]
    public async Task A_pin_that_lapses_is_still_shown_and_removable()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(201, week.Lead.Post($"{Address}/pins", """{"person": "p3", "night": "monday", "off": true}""",
            ("If-Match", await week.ETag())));
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "monday"}"""));
        Assert.Single((await week.Week())["pins"]!.AsArray());
        Assert.Null((await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json["pins"]);
        await ExpectStatus(204, Remove(week, "pin-1", await week.ETag()));
        Assert.Empty((await week.Week())["pins"]!.AsArray());
    }

    [Fact]
    public async Task A_pin_is_the_same_while_one_of_its_people_is_absent()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        async Task<ApiResponse> Pin(string people) => await ExpectStatus(201, week.Lead.Post($"{Address}/pins",
            $$"""{"task": "wall.forms", "night": "tuesday", "people": [{{people}}]}""", ("If-Match", await week.ETag())));
        await Pin("\"p1\", \"p2\"");
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p2/absent", """{"night": "tuesday"}"""));
        Assert.Equal("pin-1", (string?)(await Pin("\"p1\"")).Json["id"]);
        Assert.Equal("pin-1", (string?)(await Pin("\"p1\", \"p2\"")).Json["id"]);
        Assert.Single((await week.Week())["pins"]!.AsArray());
    }

    private static Task<ApiResponse> Remove(FirstRain week, string pin, string tag) =>
        week.Lead.Send(HttpMethod.Delete, $"{Address}/pins/{pin}", (string?)null, ("If-Match", tag));
}
