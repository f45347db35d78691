using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

[Collection(ServiceCollection.Name)]
public sealed class OpenWeekTests(RunningService service)
{
    [Fact]
    public async Task An_unknown_direction_and_an_unknown_store_are_422_with_both_pointers()
    {
        var answer = await service.NewChain().LeadOf("harbour-street").Post("/weeks", Opening);
        Assert.Equal(422, answer.Status);
        Assert.Equal(["/direction", "/store"], Pointers(answer));
    }

    [Fact]
    public async Task Faults_of_the_combined_week_point_into_the_request()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        var invalid = Opening.Replace("\"closes\": \"2027-03-09T00:00\"",
            "\"closes\": \"2027-03-08T19:00\"").Replace("{\"id\": \"p3\"", "{\"id\": \"p1\"");
        var answer = await chain.LeadOf("harbour-street").Post("/weeks", invalid);
        Assert.Equal(422, answer.Status);
        Assert.Contains("/crew/2/id", Pointers(answer));
        Assert.Contains(Pointers(answer), pointer => pointer.StartsWith("/nights/0", StringComparison.Ordinal));
        var unknownKit = await chain.LeadOf("harbour-street").Post("/weeks",
            Opening.Replace("{\"id\": \"forms\"", "{\"id\": \"glitter\""));
        Assert.Equal(["/kits/0/id"], Pointers(unknownKit));
        Assert.Equal(404, (await chain.HeadOffice.Get(Address)).Status);
    }

    [Fact]
    public async Task A_week_is_opened_with_pins_and_every_plan_agrees_with_them()
    {
        var week = await new FirstRain(service.NewChain()).Open(opening: With("""
            "hold": {"chance": 60, "scenarios": 64}, "pins": [{"task": "cycle.panel.fix", "night": "tuesday", "people": ["p3"]},
                {"person": "p1", "night": "monday", "from": "2027-03-08T20:30"}, {"person": "p2", "night": "wednesday", "off": true}]
            """));
        var file = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json;
        Assert.Equal((60, 64), ((int)file["hold"]!["chance"]!, (int)file["hold"]!["scenarios"]!));
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse("""
            [{"task": "cycle.panel.fix", "night": "tuesday", "people": ["p3"]},
             {"person": "p1", "night": "monday", "from": "2027-03-08T20:30"},
             {"person": "p2", "night": "wednesday", "off": true}]
            """), file["pins"]), file["pins"]!.ToJsonString());

        var nights = (await week.Plan())["plan"]!["nights"]!.AsArray();
        var tie = nights.SelectMany(night => night!["work"]!.AsArray().Select(work => (Night: (string?)night["night"], Work: work!)))
            .Single(one => (string?)one.Work["task"] == "cycle.panel.fix");
        Assert.Equal(("tuesday", "p3"), (tie.Night, (string?)tie.Work["people"]![0]!["person"]));
        var monday = nights.Single(night => (string?)night!["night"] == "monday")!;
        Assert.Equal("2027-03-08T20:30:00+00:00", (string?)monday["shifts"]!.AsArray().Single(shift => (string?)shift!["person"] == "p1")!["from"]);
    }

    [Fact]
    public async Task Pins_of_what_the_week_does_not_have_are_all_refused_at_once()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        var answer = await chain.LeadOf("harbour-street").Post("/weeks", With("""
            "pins": [{"task": "moon.hang", "people": ["p1", "p9"]}, {"person": "p8", "night": "sunday"}, {"task": "cycle.panel.fix"}]
            """));
        Assert.Equal(422, answer.Status);
        Assert.Equal(["/pins/0/task", "/pins/0/people/1", "/pins/1/person", "/pins/1/night"], Pointers(answer));
        var misread = await chain.LeadOf("harbour-street").Post("/weeks", With("""
            "hold": {"chance": 101}, "pins": [{"task": "cycle.panel.fix", "stint": 0}, {"night": "monday", "day": 1}]
            """));
        Assert.Equal(400, misread.Status);
        Assert.Equal(["/hold/chance", "/pins/0/stint", "/pins/1/day", "/pins/1/person"], Pointers(misread).Order());
        Assert.Equal(404, (await chain.HeadOffice.Get(Address)).Status);
    }

    /// <summary>The opening with more fields.</summary>
    private static string With(string fields) => $"{Opening.TrimEnd()[..^1]}, {fields}}}";

    [Fact]
    public async Task A_skill_that_the_crew_lacks_is_a_fault_of_the_direction()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction.Replace("\"painting\"", "\"rigging\"")));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        var answer = await chain.LeadOf("harbour-street").Post("/weeks", Opening);
        Assert.Equal((422, "/direction"), (answer.Status, Pointers(answer)[0]));
    }

    [Fact]
    public async Task A_crew_that_is_taken_over_need_not_be_complete_and_comes_from_a_week_of_the_store()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        var (again, elsewhere) = (Taking(Id, "p3").Replace($"\"id\": \"{Id}\"", "\"id\": \"second\""),
            Taking(Id, "p3").Replace($"\"id\": \"{Id}\"", "\"id\": \"other\"").Replace("\"store\": \"harbour-street\"", "\"store\": \"mill-lane\""));
        await ExpectStatus(201, week.Lead.Post("/weeks", again));
        var crew = (await ExpectStatus(200, week.Lead.Get("/weeks/second/crew"))).Json["crew"]!.AsArray();
        Assert.Equal(("p3", "Cleo Strand", 3), ((string?)crew.Single()!["id"], (string?)crew[0]!["name"], crew[0]!["available"]!.AsArray().Count));
        Assert.Equal(["/crewFrom/people/1"], Pointers(await week.Lead.Post("/weeks", Taking(Id, "p3\", \"p9"))));
        Assert.Equal(["/crewFrom/week"], Pointers(await chain.HeadOffice.Post("/weeks", elsewhere)));
        Assert.Equal(["/crewFrom/week"], Pointers(await week.Lead.Post("/weeks", Taking("none", "p3"))));
    }

    /// <summary>The opening without a crew of its own.</summary>
    private static string Taking(string week, string people)
    {
        var body = JsonNode.Parse(Opening)!;
        body["crew"] = new JsonArray();
        body["crewFrom"] = JsonNode.Parse($$"""{"week": "{{week}}", "people": ["{{people}}"]}""");
        return body.ToJsonString().Replace("\":\"", "\": \"");
    }

    [Fact]
    public async Task A_week_is_opened_once_by_a_lead_of_its_store()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Equal((409, "week-open"), await week.Lead.Post("/weeks", Opening) is var again ? (again.Status, again.Code)
            : default);
        Assert.Equal(403, (await week.Lead.Post("/weeks",
            Opening.Replace("\"store\": \"harbour-street\"", "\"store\": \"mill-lane\""))).Status);
    }

    [Fact]
    public async Task A_direction_is_revised_by_version_and_an_open_week_keeps_its_own()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var revision = Direction.Replace("\"name\": \"First Rain\"",
            "\"name\": \"First Rain, again\", \"note\": \"The wall is a shade darker.\"");
        Assert.Equal(428, (await week.HeadOffice.Put("/directions/first-rain", revision)).Status);
        Assert.Equal(412, (await week.HeadOffice.Put("/directions/first-rain", revision, ("If-Match", "\"7\""))).Status);
        foreach (var invalid in new[]
            { "1", "*", "W/\"1\"", "\"1\", \"2\"", "\"one\"", "\"-1\"", "\"\"", "\"99999999999999999999\"" })
            Assert.Equal(400, (await week.HeadOffice.Put("/directions/first-rain", revision, ("If-Match", invalid))).Status);
        await ExpectStatus(204, week.HeadOffice.Put("/directions/first-rain", revision, ("If-Match", "\"1\"")));
        Assert.Equal("First Rain, again", (string?)(await week.HeadOffice.Get("/directions/first-rain")).Json["name"]);
        Assert.Equal(1, (long)(await week.Week())["directionVersion"]!);
        Assert.DoesNotContain("darker", await service.EventsOf(chain));
    }

    [Fact]
    public async Task A_crew_member_joins_and_changes_and_invalid_changes_are_refused()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await ExpectStatus(204,
            week.Lead
                .Post($"{Address}/crew",
                    """
                    {"id": "p4", "name": "Dov Lark", "skills": {"dressing": 1}, "ratePerHour": 1200,
                     "available": [{"night": "monday"}]}
                    """));
        Assert.Equal((409, "in-crew-already"),
            await week.Lead.Post($"{Address}/crew",
                """{"id": "p4", "name": "Dov", "skills": {}, "ratePerHour": 1, "available": []}""") is var twice
                    ? (twice.Status, twice.Code) : default);
        var refused = await week.Lead.Put($"{Address}/crew/p4", """{"available": [{"night": "monday"}, {"night": "sunday"}]}""",
            ("If-Match", await week.ETag()));
        Assert.Equal((422, "/available/1/night"), (refused.Status, Pointers(refused)[0]));
        await ExpectStatus(204,
            week.Lead.Put($"{Address}/crew/p4", """{"available": [{"night": "tuesday"}], "ratePerHour": 1250}""",
            ("If-Match", await week.ETag())));
        var crew = (await ExpectStatus(200, week.Lead.Get($"{Address}/week-file"))).Json["crew"]!.AsArray();
        Assert.Equal((1250, "tuesday"), ((int)crew[3]!["ratePerHour"]!, (string?)crew[3]!["available"]![0]!["night"]));
        Assert.Equal(404, (await week.Lead.Put($"{Address}/crew/p9", "{}", ("If-Match", await week.ETag()))).Status);
    }

    [Fact]
    public async Task A_kit_is_counted_and_settled_and_can_no_longer_be_delayed()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        const string arrival =
            """{"id": "phone-1.1", "at": "2027-03-08T11:00:00Z", "lines": [{"item": "form", "received": 3, "damaged": 1}]}""";
        week.Clock.MoveTo("2027-03-08T11:05");
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived", arrival));
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived", arrival));
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/settled", """{"item": "form"}"""));
        var kit = (await week.Week())["kits"]![0]!;
        Assert.Equal(("2027-03-08T11:00", "2027-03-08T11:00:00Z"), ((string?)kit["eta"], (string?)kit["arrived"]));
        Assert.Equal((3, 1, true),
            ((int)kit["lines"]![0]!["received"]!, (int)kit["lines"]![0]!["damaged"]!, (bool)kit["lines"]![0]!["settled"]!));
        Assert.Equal(4, (long)(await week.Week())["version"]!);
        Assert.Equal((409, "kit-arrived"), await week.Lead.Post($"{Address}/kits/forms/delayed", """{"eta": null}""") is var late
            ? (late.Status, late.Code) : default);
        Assert.Equal(404, (await week.Lead.Post($"{Address}/kits/glitter/delayed", """{"eta": null}""")).Status);
    }

    [Fact]
    public async Task A_kit_that_arrived_uncounted_bars_its_tasks_until_a_lead_confirms_it()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-08T11:45");
        var arrived = await ExpectStatus(200, week.Lead.Post($"{Address}/kits/forms/arrived",
            """{"id": "phone-1.1", "at": "2027-03-08T11:00:00Z"}"""));
        Assert.Equal(("form", "wall.forms"), ((string?)arrived.Json["uncounted"]![0], (string?)arrived.Json["barred"]![0]));
        Assert.Contains("Not counted yet: form.", (string?)arrived.Json["sentence"]);
        Assert.Equal("wall.forms", (string?)(await week.Week())["kits"]![0]!["missing"]!["barred"]![0]);
        Assert.Equal("none", (string?)(await week.Plan(state: "none"))["state"]);

        const string complete = """{"id": "phone-1.2", "at": "2027-03-08T11:30:00Z", "complete": true}""";
        var crew = chain.As("cy", Role.Crew, "harbour-street");
        Assert.Equal((403, "other-role"), await crew.Post($"{Address}/kits/forms/arrived", complete) is var refused
            ? (refused.Status, refused.Code) : default);
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived", complete));
        Assert.Equal(4, (int)(await week.Week())["kits"]![0]!["lines"]![0]!["received"]!);
        Assert.Equal("ready", (string?)(await week.Plan())["state"]);
    }

    private static List<string> Pointers(ApiResponse answer) =>
        [.. answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!)];
}
