using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Testing;

namespace SetWeek.Service.Tests.Questions;

[Collection(ServiceCollection.Name)]
public sealed class QuestionTests(RunningService service)
{
    private const string Questions = $"{FirstRain.Address}/questions";

    [Fact]
    public async Task A_question_beside_a_block_is_answered_for_all_and_every_week_of_the_direction_shows_it()
    {
        var (chain, week) = await Opened();
        await FirstRain.ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane")));
        await FirstRain.ExpectStatus(201,
            chain.HeadOffice.Post("/weeks", FirstRain.Opening.Replace("harbour-street", "mill-lane")));
        await Ask(week, "q1", "headOffice", "May the forms face the door?", "wall.forms", block: "phone-1.4");
        await Answer(chain.HeadOffice, "q1", "Yes, all of them.", toAll: true);

        var own = (await week.Lead.Get(Questions)).Json["questions"]!.AsArray().Single()!;
        Assert.Equal(("May the forms face the door?", "phone-1.4", "Yes, all of them."),
            ((string)own["text"]!, (string)own["block"]!, (string)own["answer"]!["text"]!));
        var other = chain.As("cleo", Role.Crew, "mill-lane");
        await ServiceProcess.Until(async () => FromOthers(await other.Get("/weeks/first-rain.mill-lane/questions")).Count == 1);
        Assert.Equal("Yes, all of them.",
            (string)FromOthers(await other.Get("/weeks/first-rain.mill-lane/questions"))[0]!["answer"]!["text"]!);
        Assert.Empty(FromOthers(await week.Lead.Get(Questions)));
    }

    [Fact]
    public async Task The_feed_has_the_texts_of_what_head_office_is_asked_and_only_those()
    {
        var (chain, week) = await Opened();
        await Ask(week, "q1", "headOffice", "Is the red one right?");
        await Ask(week, "q2", "lead", "Who has the key?");
        await Answer(week.Lead, "q2", "Asha has it.");
        await Answer(chain.HeadOffice, "q1", "It is.");
        var told = (await chain.HeadOffice.Get("/feed")).Json.AsArray()
            .Where(e => ((string)e!["type"]!).StartsWith("setweek.question", StringComparison.Ordinal))
            .Select(e => ((string)e!["data"]!["question"]!, (string?)e["data"]!["text"])).ToList();
        Assert.Equal([("q1", "Is the red one right?"), ("q2", null), ("q2", null), ("q1", "It is.")], told);
        var stored = await service.EventsOf(chain);
        Assert.All(["red one", "the key", "Asha has", "It is."], text => Assert.DoesNotContain(text, stored));
    }

    [Fact]
    public async Task The_list_of_the_chain_is_filtered_and_paged()
    {
        var (chain, week) = await Opened();
        foreach (var n in Enumerable.Range(1, 5)) await Ask(week, $"q{n}", n % 2 == 0 ? "lead" : "headOffice", $"Question {n}?");
        await Answer(chain.HeadOffice, "q1", "Yes.");
        await ServiceProcess.Until(async () => (await Ids(chain, "?state=answered")).Count == 1
            && (await Ids(chain, "")).Count == 5);
        Assert.Equal(["q1", "q2", "q3", "q4", "q5"], await Ids(chain, ""));
        Assert.Equal(["q3", "q5"], await Ids(chain, "?for=headOffice&state=open"));
        Assert.Empty(await Ids(chain, "?store=mill-lane"));

        var first = await chain.HeadOffice.Get("/questions?limit=2&for=headOffice");
        Assert.Equal(2, first.Json["questions"]!.AsArray().Count);
        var second = await chain.HeadOffice.Get(PageLink.NextOf(first.Link!));
        Assert.Equal("q5", (string)second.Json["questions"]!.AsArray().Single()!["id"]!);
        Assert.Null(second.Link);
        Assert.Empty((await chain.LeadOf("mill-lane").Get("/questions")).Json["questions"]!.AsArray());
        foreach (var wrong in new[] { "for=crew", "state=lost", "limit=0", "after=%00", "store=%00" })
            Assert.Equal(400, (await chain.HeadOffice.Get($"/questions?{wrong}")).Status);
    }

    [Fact]
    public async Task A_repeated_question_adds_nothing_and_one_that_differs_is_refused()
    {
        var (_, week) = await Opened();
        await Ask(week, "q1", "lead", "Who has the key?");
        var before = await week.ETag();
        await Ask(week, "q1", "lead", "Who has the key?");
        Assert.Equal(before, await week.ETag());
        var differs = await week.Lead.Post(Questions,
            """{"id": "q1", "for": "headOffice", "text": "Who?", "at": "2027-03-08T22:10:00Z"}""");
        Assert.Equal((409, "another-question"), (differs.Status, differs.Code));
    }

    private async Task<(Chain, FirstRain)> Opened()
    {
        var chain = service.NewChain();
        return (chain, await new FirstRain(chain).Open());
    }

    private static JsonArray FromOthers(ApiResponse response) => response.Json["fromOthers"]!.AsArray();

    private static async Task<IReadOnlyList<string>> Ids(Chain chain, string query) =>
        [.. (await chain.HeadOffice.Get($"/questions{query}")).Json["questions"]!.AsArray().Select(q => (string)q!["id"]!)];

    private static Task Ask(FirstRain week, string id, string to, string text, string? task = null, string? block = null)
    {
        var body = new JsonObject { ["id"] = id, ["for"] = to, ["text"] = text, ["at"] = $"2027-03-08T22:0{id[^1]}:00Z" };
        if (task is not null) body["task"] = task;
        if (block is not null) body["block"] = block;
        return FirstRain.ExpectStatus(204, week.Lead.Post(Questions, body.ToJsonString()));
    }

    private static Task Answer(ApiClient client, string question, string text, bool toAll = false) => FirstRain.ExpectStatus(204,
        client.Post($"{Questions}/{question}/answer", new JsonObject { ["text"] = text, ["toAll"] = toAll }.ToJsonString()));
}
