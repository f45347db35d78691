using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Work;

[Collection(ServiceCollection.Name)]
public sealed class TakeReportsTests(RunningService service)
{
    private const string Queue = """
        {"reports": [
          {"kind": "arrived", "kit": "forms", "id": "phone-1.1", "at": "2027-03-08T11:40:00Z"},
          {"kind": "started", "id": "phone-1.2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"},
          {"kind": "started", "id": "phone-1.3", "task": "no-such-task", "night": "monday", "at": "2027-03-08T20:06:00Z"},
          {"kind": "finished", "id": "phone-1.4", "task": "wall.paint", "at": "20:59"},
          {"kind": "reopened", "id": "phone-1.5", "task": "wall.paint", "at": "2027-03-08T21:06:00Z"},
          {"kind": "danced", "id": "phone-1.6"},
          [],
          {"kind": "started", "id": "phone-1.2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"},
          {"kind": "finished", "id": "phone-1.7", "task": "wall.paint", "night": "monday", "at": "2027-03-08T21:00:00Z"}]}
        """;

    [Fact]
    public async Task Each_report_of_a_queue_is_answered_by_itself_in_order()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        var answer = await ExpectStatus(200, crew.Post($"{Address}/reports", Queue));
        var items = answer.Json["answers"]!.AsArray().Select(item => item!).ToList();
        Assert.Equal([200, 204, 409, 400, 403, 400, 400, 204, 204], items.Select(item => (int)item["status"]!));
        Assert.Equal(["phone-1.1", "phone-1.2", "phone-1.3", "phone-1.4", "phone-1.5", "phone-1.6", null, "phone-1.2", "phone-1.7"],
            items.Select(item => (string?)item["id"]));
        Assert.Equal(["form"], items[0]["missing"]!["uncounted"]!.AsArray().Select(item => (string?)item));
        Assert.Equal("unknown-task", (string?)items[2]["problem"]!["code"]);
        Assert.Equal(["/reports/3/at", "/reports/3/night"], Pointers(items[3]).Order());
        Assert.Equal("other-role", (string?)items[4]["problem"]!["code"]);
        Assert.Equal(["/reports/5/kind"], Pointers(items[5]));
        Assert.Equal(["/reports/6"], Pointers(items[6]));
        Assert.Equal("\"5\"", answer.ETag);
        Assert.Equal("done", (string?)(await week.Week())["work"]![0]!["state"]);

        // The whole queue again: a phone that got no answer sends what it has.
        var again = await ExpectStatus(200, crew.Post($"{Address}/reports", Queue));
        Assert.Equal(answer.Text, again.Text);
        // The kit that is not counted breaks the plan, which is an event of its own.
        await week.PlanIsChecked();
        Assert.Equal("\"6\"", await week.ETag());
    }

    [Fact]
    public async Task A_queue_with_a_key_is_taken_once()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var key = (IdempotencyKey.Header, "q1");
        var lead = chain.LeadOf("harbour-street");
        var body = """{"reports": [{"kind": "arrived", "kit": "forms", "id": "r1", "at": "2027-03-08T11:40:00Z"}]}""";
        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => lead.Post($"{Address}/reports", body, key)));
        Assert.All(answers, answer => Assert.Equal(answers[0], answer));
        Assert.Equal("\"2\"", answers[0].ETag);
    }

    /// <summary>A refusal would otherwise be the answer for 14 days. The ids make the repeat safe.</summary>
    [Fact]
    public async Task A_queue_with_a_refused_report_leaves_its_key_free()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var key = (IdempotencyKey.Header, "q1");
        const string body = """
            {"reports": [
              {"kind": "arrived", "kit": "forms", "id": "r1", "at": "2027-03-08T11:40:00Z",
               "lines": [{"item": "form", "received": 4}]},
              {"kind": "started", "id": "r2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"}]}
            """;
        Assert.Equal([204, 409], await Statuses());
        await week.PlanAndPublish();
        Assert.Equal([204, 204], await Statuses());

        async Task<IEnumerable<int>> Statuses() => (await ExpectStatus(200, week.Lead.Post($"{Address}/reports", body, key)))
            .Json["answers"]!.AsArray().Select(item => (int)item!["status"]!);
    }

    [Theory]
    [InlineData("""{"reports": []}""", "/reports")]
    [InlineData("""{"reports": 5}""", "/reports")]
    [InlineData("""{}""", "/reports")]
    [InlineData("""{"reports": [{"kind": "finished"}], "more": 1}""",
        "/more", "/reports/0/at", "/reports/0/id", "/reports/0", "/reports/0/night")]
    public async Task A_queue_that_cannot_be_read_is_400_with_every_fault(string body, params string[] pointers)
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var answer = await chain.LeadOf("harbour-street").Post($"{Address}/reports", body);
        Assert.Equal(400, answer.Status);
        Assert.Equal(pointers.Order(), answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!).Order());
    }

    /// <summary>A new kind of report must be added to the queue, or a phone cannot send it.</summary>
    [Fact]
    public async Task Every_kind_of_report_is_accepted_in_a_queue()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var kinds = typeof(IReport).Assembly.GetTypes().Where(type => type.IsClass && type.IsAssignableTo(typeof(IReport)))
            .Select(type => (Operation)type.GetProperty("Operation")!.GetValue(null)!).ToList();
        Assert.True(kinds.Count >= 5);
        var reports = new JsonArray([.. kinds.Select(kind =>
        {
            var report = JsonNode.Parse(kind.Body!.Example)!.AsObject();
            report["kind"] = kind.Path.Split('/')[^1];
            if (kind.Path.Contains("{kit}")) report["kit"] = "forms";
            if (kind.Path.Contains("{report}")) report["report"] = "phone-3.17";
            if (kind.Path.Contains("{night}")) report["night"] = "monday";
            if (kind.Path.Contains("{display}")) report["display"] = "wall";
            if (kind.Path.Contains("{snag}")) report["snag"] = "phone-3.31";
            return (JsonNode)report;
        })]);
        var answer = await ExpectStatus(200, chain.LeadOf("harbour-street")
            .Post($"{Address}/reports", new JsonObject { ["reports"] = reports }.ToJsonString()));
        Assert.All(answer.Json["answers"]!.AsArray(), item => Assert.True((int)item!["status"]! is not 400, item.ToJsonString()));
    }

    private static IEnumerable<string> Pointers(JsonNode item) =>
        item["problem"]!["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!);
}
