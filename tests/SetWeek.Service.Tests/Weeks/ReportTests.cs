using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

/// <summary>Reports that are wrong, late, or from a device with a wrong clock.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ReportTests(RunningService service)
{
    private const string Start = """
        {"id": "phone-1.1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:10:00Z", "people": ["p2"]}
        """;

    [Fact]
    public async Task A_report_from_a_device_far_ahead_happened_when_it_was_received()
    {
        var week = await Published("2027-03-08T20:12");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", Start.Replace("T20:10:00Z", "T20:22:00Z")));
        Assert.Equal("2027-03-08T20:12:00Z", (string?)(await Work(week))["from"]);
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            Start.Replace("phone-1.1", "phone-1.2").Replace("2027-03-08T20:10:00Z", "2030-01-01T00:00:00Z")));
        var work = await Work(week);
        Assert.Equal(("done", "2027-03-08T20:12:00Z"), ((string?)work["state"], (string?)work["to"]));

        var last = (await History(week)).Last(entry => (string?)entry["type"] == "work-finished");
        Assert.Equal(("2027-03-08T20:12:00Z", "2030-01-01T00:00:00Z", "lena"),
            ((string?)last["at"], (string?)last["statedAt"], (string?)last["who"]));
        Assert.Equal("2027-03-08T20:13", (string?)(await week.Plan())["now"]);
    }

    [Fact]
    public async Task A_report_is_taken_back_also_before_it_arrives_and_the_history_shows_both()
    {
        var week = await Published("2027-03-08T21:00");
        var before = (await week.Week())["work"]!.ToJsonString();
        const string retraction = """{"id": "phone-2.1", "at": "2027-03-08T20:50:00Z", "why": "Wrong task."}""";
        await ExpectStatus(204, week.Lead.Post($"{Address}/reports/phone-1.1/retracted", retraction));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", Start));
        await ExpectStatus(204, week.Lead.Post($"{Address}/reports/phone-1.1/retracted", retraction));
        Assert.Equal(before, (await week.Week())["work"]!.ToJsonString());

        var history = await History(week);
        Assert.Equal(["week-opened", "plan-published", "report-retracted", "work-started"],
            history.Select(entry => (string?)entry["type"]));
        Assert.Equal((3, "Wrong task."), ((int)history[3]["takenBackBy"]!, (string?)history[2]["note"]));
        Assert.Equal("“Paint the wall” was started Mon 8 Mar, 20:10.", (string?)history[3]["sentence"]);
        Assert.Single((await ExpectStatus(200, week.Lead.Get($"{Address}/history?after=2&limit=1"))).Json["events"]!.AsArray());
        Assert.Equal(400, (await week.Lead.Get($"{Address}/history?limit=0")).Status);
        Assert.All((await ExpectStatus(200, week.HeadOffice.Get($"{Address}/history"))).Json["events"]!.AsArray(),
            entry => Assert.Null(entry!["note"]));
    }

    [Fact]
    public async Task The_same_id_with_other_content_is_409_and_the_first_report_stays()
    {
        var week = await Published("2027-03-08T21:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", Start));
        var other = await week.Lead.Post($"{Address}/work/started", Start.Replace("20:10", "20:15"));
        Assert.Equal((409, "report-id-used"), (other.Status, other.Code));
        Assert.Contains("“Paint the wall” was started Mon 8 Mar, 20:10.", (string?)other.Json["detail"]);
        Assert.Equal("2027-03-08T20:10:00Z", (string?)(await Work(week))["from"]);
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", Start.Replace("20:10", "20:15")
            .Replace("phone-1.1", "phone-1.3").Replace("\"people\"", "\"corrects\": \"phone-1.1\", \"people\"")));
        Assert.Equal("2027-03-08T20:15:00Z", (string?)(await Work(week))["from"]);
    }

    [Fact]
    public async Task Running_work_tells_its_quantity_is_paused_and_goes_on()
    {
        var week = await Published("2027-03-08T21:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", Start));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/progress", """
            {"id": "phone-1.2", "task": "wall.paint", "at": "2027-03-08T20:30:00Z", "remainingMinutes": 45, "done": 3, "of": 8}
            """));
        var work = await Work(week);
        Assert.Equal(("running", "2027-03-08T21:15:00Z", 3, 8, "p2"), ((string?)work["state"], (string?)work["to"],
            (int)work["done"]!, (int)work["of"]!, (string?)work["people"]![0]));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/paused",
            """{"id": "phone-1.3", "task": "wall.paint", "at": "2027-03-08T20:40:00Z"}"""));
        Assert.Equal(("paused", 35), ((string?)(await Work(week))["state"], (int)(await Work(week))["remainingMinutes"]!));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/resumed",
            """{"id": "phone-1.4", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:50:00Z"}"""));
        Assert.Equal(("running", "2027-03-08T21:25:00Z"), ((string?)(await Work(week))["state"], (string?)(await Work(week))["to"]));
    }

    [Fact]
    public async Task Anybody_stops_work_and_only_a_lead_lifts_the_stop()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        chain.Clock.MoveTo("2027-03-08T20:30");
        var crew = chain.As("cy", Role.Crew, "harbour-street");
        await ExpectStatus(204, crew.Post($"{Address}/work/stopped", """
            {"id": "phone-1.9", "night": "monday", "zone": "window", "at": "2027-03-08T20:00:00Z", "note": "The glass moves."}
            """));
        Assert.Equal("Work in Show window was stopped for the night of Mon 8 Mar: not safe.",
            (string?)Assert.Single((await week.Week())["stops"]!.AsArray())!["sentence"]);
        var against = await ExpectStatus(200, crew.Post($"{Address}/work/started", Start));
        Assert.Contains("go on when a lead has lifted the stop", (string?)against.Json["sentence"]);
        Assert.Equal("running", (string?)(await Work(week))["state"]);
        await ExpectStatus(204, crew.Post($"{Address}/work/paused",
            """{"id": "phone-1.20", "task": "wall.paint", "at": "2027-03-08T20:20:00Z"}"""));
        var resumed = await ExpectStatus(200, crew.Post($"{Address}/work/resumed",
            """{"id": "phone-1.21", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:25:00Z"}"""));
        Assert.Equal("phone-1.9", (string?)resumed.Json["stop"]);
        Assert.Equal(403, (await crew.Post($"{Address}/stops/phone-1.9/lifted", "{}")).Status);
        var taken = await ExpectStatus(409, crew.Post($"{Address}/reports/phone-1.9/retracted",
            """{"id": "phone-1.22", "at": "2027-03-08T20:26:00Z"}"""));
        Assert.Equal("is-stop", (string?)taken.Json["code"]);
        await ExpectStatus(204, week.Lead.Post($"{Address}/stops/phone-1.9/lifted", """{"why": "The pane is secured."}"""));
        Assert.Empty((await week.Week())["stops"]!.AsArray());
        Assert.Equal("\"lena\" lifted the stop of Show window in the night of Mon 8 Mar.",
            (string?)(await History(week)).Last(entry => (string?)entry["type"] == "stop-lifted")["sentence"]);
    }

    /// <summary>The forms are planned before the kit now comes; later they are not.</summary>
    [Fact]
    public async Task A_published_plan_that_no_longer_holds_says_so_until_it_holds_again()
    {
        var week = await Published("2027-03-08T10:00");
        Assert.Null((await week.Week())["brokenPlan"]);
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-11T12:00"}"""));
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-11T13:00"}"""));
        var broken = (await week.Week())["brokenPlan"]!;
        Assert.Equal(("kit", "wall.forms", 1), ((string?)broken["rule"], (string?)broken["task"], (int)broken["stint"]!));
        await ExpectStatus(204, week.HeadOffice.Post($"{Address}/kits/forms/expected", """{"eta": "2027-03-08T12:00"}"""));
        Assert.Null((await week.Week())["brokenPlan"]);
        Assert.Equal(["kit-delayed", "plan-broken", "kit-delayed", "kit-expected", "plan-holds-again"],
            (await History(week)).Skip(2).Select(entry => (string?)entry["type"]));
    }

    /// <summary>A re-plan is asked for, and the floor goes on by the published plan until it is published.</summary>
    [Fact]
    public async Task Reports_that_agree_with_a_candidate_do_not_overtake_it_and_others_keep_it_from_being_published()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        var replan = await week.Plan("2027-03-08T12:00");
        var night = replan["plan"]!["nights"]!.AsArray().First(night => night!["work"]!.AsArray().Count > 0)!;
        var first = night["work"]!.AsArray().MinBy(work => (string?)work!["from"], StringComparer.Ordinal)!;
        var from = DateTimeOffset.Parse((string)first["from"]!, null);
        week.Clock.MoveTo(from.AddMinutes(9).ToString("yyyy-MM-dd'T'HH:mm", null));
        // Everything that should have begun by now began, most of it a few minutes late.
        foreach (var work in night["work"]!.AsArray().Where(work =>
            DateTimeOffset.Parse((string)work!["from"]!, null) < from.AddMinutes(9)))
            await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", new JsonObject
            {
                ["id"] = $"start.{work!["task"]}", ["task"] = (string?)work["task"], ["night"] = (string?)night["night"],
                ["at"] = from.AddMinutes(3).ToString("yyyy-MM-dd'T'HH:mm:sszzz", null),
            }.ToJsonString()));
        var address = $"{Address}/plans/{replan["id"]}";
        Assert.Equal("ready", (string?)(await ExpectStatus(200, week.Lead.Get(address))).Json["state"]);
        Assert.Null((await week.Week())["brokenPlan"]);

        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", new JsonObject
        {
            ["id"] = "phone-9", ["task"] = (string?)first["task"], ["night"] = (string?)night["night"], ["corrects"] = $"start.{first["task"]}",
            ["at"] = from.AddMinutes(-25).ToString("yyyy-MM-dd'T'HH:mm:sszzz", null),
        }.ToJsonString()));
        await week.PlanIsChecked();
        var refused = await week.Publish(replan, await week.ETag());
        Assert.Equal((409, "breaks-rules"), (refused.Status, refused.Code));
        Assert.Contains(refused.Json["because"]!.AsArray(), sentence => ((string?)sentence)!.Contains("has begun", StringComparison.Ordinal));

        await ExpectStatus(204, week.Lead.Post($"{Address}/reports/phone-9/retracted",
            $$"""{"id": "phone-10", "at": "{{from.AddMinutes(5):yyyy-MM-dd'T'HH:mm:sszzz}}"}"""));
        await week.PlanIsChecked();
        await ExpectStatus(204, week.Publish(replan, await week.ETag()));
    }

    [Fact]
    public async Task An_absence_is_taken_back()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "tuesday"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/present", """{"night": "tuesday", "why": "Wrong person."}"""));
        Assert.Empty((await week.Week())["absences"]!.AsArray());
        Assert.Equal((409, "not-absent"), await week.Lead.Post($"{Address}/crew/p3/present", """{"night": "tuesday"}""") is var again
            ? (again.Status, again.Code) : default);
        Assert.Equal(3, (int)(await History(week))[1]["takenBackBy"]!);
    }

    private async Task<FirstRain> Published(string now)
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo(now);
        return week;
    }

    private static async Task<JsonNode> Work(FirstRain week) => Assert.Single((await week.Week())["work"]!.AsArray())!;

    private static async Task<List<JsonNode>> History(FirstRain week) =>
        [.. (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray().Select(entry => entry!)];
}
