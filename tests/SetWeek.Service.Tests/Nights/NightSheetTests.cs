using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Nights;

[Collection(ServiceCollection.Name)]
public sealed class NightSheetTests(RunningService service)
{
    private const string Sheet = $"{Address}/nights/monday/sheet";

    /// <summary>Words of the sheet that would say what people earn, how old they are, or why they are absent.</summary>
    private static readonly string[] Unsaid = ["rate", "wage", "pay", "cost", "under18", "age", "why", "note"];

    [Fact]
    public async Task Every_role_of_the_store_reads_the_same_sheet_without_pay_ages_and_reasons()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get(Sheet)));
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "monday", "why": "Has the flu"}"""));
        var leads = await ExpectStatus(200, week.Lead.Get(Sheet));
        Assert.Equal(await week.ETag(), leads.ETag);
        ApiClient[] readers = [chain.As("cy", Role.Crew, "harbour-street"), chain.As("eng", Role.Engineer), chain.HeadOffice];
        foreach (var reader in readers)
            Assert.Equal(leads.Text, (await ExpectStatus(200, reader.Get(Sheet))).Text);
        Assert.Equal(404, (await chain.As("cy", Role.Crew, "mill-lane").Get(Sheet)).Status);

        Assert.Equal("p3", (string?)Assert.Single(leads.Json["absent"]!.AsArray())!["person"]);
        Assert.DoesNotContain("flu", leads.Text);
        Assert.Empty(MembersOf(leads.Json).Intersect(Unsaid, StringComparer.OrdinalIgnoreCase));
        var paint = leads.Json["pieces"]!.AsArray().Single(piece => (string?)piece!["task"] == "wall.paint")!;
        Assert.InRange((int)paint["number"]!, 101, 199);
        Assert.Equal(("Air the room.", "Mask the edges.", "No bare spot."), ((string?)paint["cautions"]![0],
            (string?)paint["steps"]![0], (string?)paint["checks"]![0]));
        Assert.True(string.CompareOrdinal((string?)paint["latestStart"], (string?)paint["from"]) >= 0);
    }

    [Fact]
    public async Task Reports_of_the_floor_and_the_clock_of_planning_are_on_the_sheet_of_a_person()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        var paint = (await ExpectStatus(200, week.Lead.Get(Sheet))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!;
        var painter = (string)paint["people"]![0]!["person"]!;
        week.Clock.MoveTo("2027-03-08T23:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", new JsonObject
        {
            ["id"] = "tablet-1", ["at"] = (string)paint["from"]!, ["task"] = "wall.paint", ["stint"] = 1, ["night"] = "monday",
        }.ToJsonString()));
        var own = (await ExpectStatus(200, week.Lead.Get($"{Sheet}?person={painter}"))).Json;
        Assert.Equal("2027-03-08T23:00:00Z", (string?)own["asOf"]);
        Assert.Equal([(int)paint["number"]!], own["order"]!["now"]!.AsArray().Select(number => (int)number!));
        Assert.All(own["pieces"]!.AsArray(), piece =>
            Assert.Contains(piece!["people"]!.AsArray(), person => (string?)person!["person"] == painter));
        var begun = own["pieces"]!.AsArray().Single(piece => (string?)piece!["task"] == "wall.paint")!;
        Assert.Equal("running", (string?)begun["report"]!["state"]);
        Assert.Null(begun["latestStart"]);

        Assert.Equal(404, (await week.Lead.Get($"{Sheet}?person=nobody")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Address}/nights/sunday/sheet")).Status);
    }

    /// <summary>What is computed is kept, and a decision makes it new: a piece whose start is pinned cannot start later.</summary>
    [Fact]
    public async Task A_decision_changes_how_late_a_piece_may_start()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        var (night, piece) = (await SheetsOf(week)).SelectMany(sheet => sheet["pieces"]!.AsArray()
                .Select(piece => ((string)sheet["night"]!, Piece: piece!)))
            .First(found => found.Piece["task"] is not null && (string?)found.Piece["latestStart"] != (string?)found.Piece["from"]);
        await ExpectStatus(201, week.Lead.Post($"{Address}/pins",
            new JsonObject { ["task"] = (string?)piece["task"], ["from"] = ((string)piece["from"]!)[..16] }.ToJsonString(),
            ("If-Match", await week.ETag())));
        var pinned = (await ExpectStatus(200, week.Lead.Get($"{Address}/nights/{night}/sheet"))).Json["pieces"]!.AsArray()
            .Single(other => (int)other!["number"]! == (int)piece["number"]!)!;
        Assert.Equal((string?)piece["from"], (string?)pinned["latestStart"]);
    }

    [Fact]
    public async Task The_week_says_which_issue_is_published_by_whom_and_when_and_pieces_keep_their_numbers()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Null((await week.Week())["issue"]);
        week.Clock.MoveTo("2027-03-07T10:00");
        await week.PlanAndPublish();
        var issue = (await week.Week())["issue"]!;
        Assert.Equal((1, "lena", "2027-03-07T10:00:00Z"), ((int)issue["number"]!, (string?)issue["by"], (string?)issue["at"]));
        var first = await NumbersOf(week);

        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        await week.PlanAndPublish();
        var now = await week.Week();
        Assert.Equal((2, (string?)now["publishedPlan"]), ((int)now["issue"]!["number"]!, (string?)now["issue"]!["plan"]));
        Assert.True(JsonNode.DeepEquals(issue, Assert.Single(now["earlierIssues"]!.AsArray())));
        var second = await NumbersOf(week);
        var same = first.Where(piece => second.ContainsKey(piece.Key)).ToList();
        Assert.NotEmpty(same);
        Assert.All(same, piece => Assert.Equal(piece.Value, second[piece.Key]));
        // The forms wait for their kit: they move to the third night and get a number there that was never used.
        var forms = Assert.Single(second, piece => piece.Key.EndsWith("/wall.forms", StringComparison.Ordinal));
        Assert.Equal(("wednesday/wall.forms", 3), (forms.Key, forms.Value / 100));
        Assert.DoesNotContain(forms.Value, first.Values);
    }

    private static async Task<Dictionary<string, int>> NumbersOf(FirstRain week)
    {
        var numbers = new Dictionary<string, int>();
        foreach (var sheet in await SheetsOf(week))
            foreach (var piece in sheet["pieces"]!.AsArray())
                numbers[$"{sheet["night"]}/{(string?)piece!["task"] ?? (string?)piece["cleanDown"]}"] = (int)piece["number"]!;
        return numbers;
    }

    private static async Task<IReadOnlyList<JsonNode>> SheetsOf(FirstRain week)
    {
        var sheets = new List<JsonNode>();
        foreach (var night in new[] { "monday", "tuesday", "wednesday" })
            sheets.Add((await ExpectStatus(200, week.Lead.Get($"{Address}/nights/{night}/sheet"))).Json);
        return sheets;
    }

    private static IEnumerable<string> MembersOf(JsonNode? node) => node switch
    {
        JsonObject fields => fields.SelectMany(field => MembersOf(field.Value).Prepend(field.Key)),
        JsonArray items => items.SelectMany(MembersOf),
        _ => [],
    };

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
