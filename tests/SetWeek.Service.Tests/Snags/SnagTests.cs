using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Snags;

[Collection(ServiceCollection.Name)]
public sealed class SnagTests(RunningService service)
{
    private const string Snags = $"{Address}/snags";

    private const string Chipped = """
        {"id": "phone-1.1", "at": "2027-03-08T22:36:00Z", "what": "Skirting chipped", "why": "Ben Marsh says: before we came",
         "zone": "window", "owner": "store", "due": "2027-03-12"}
        """;

    [Fact]
    public async Task The_crew_raises_a_snag_and_everybody_of_the_week_reads_what_was_done_about_it()
    {
        var (chain, week) = await Opened();
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        var raised = await ExpectStatus(201, crew.Post(Snags, Chipped));
        Assert.Equal(($"{Snags}/1", 1), (raised.Location, (int)raised.Json["snag"]!));
        Assert.Equal(1, (int)(await ExpectStatus(201, crew.Post(Snags, Chipped))).Json["snag"]!);
        await ExpectStatus(204, crew.Post($"{Snags}/1/fixed", """{"id": "f1", "at": "2027-03-08T23:00:00Z", "note": "Filled."}"""));
        await ExpectStatus(204, week.Lead.Post($"{Snags}/1/not-fixed", """{"id": "o1", "at": "2027-03-09T22:00:00Z"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Snags}/1/handed-on",
            """{"id": "h1", "at": "2027-03-09T22:10:00Z", "owner": "person", "person": "p2", "due": "2027-03-16"}"""));
        await ExpectStatus(204, week.Lead.Post($"{Snags}/1/accepted-open", """{"id": "a1", "at": "2027-03-09T23:00:00Z"}"""));

        foreach (var reader in new[] { week.Lead, crew, chain.HeadOffice, chain.As("rena", Role.Region, "harbour-street") })
        {
            var snag = (await ExpectStatus(200, reader.Get($"{Snags}/1"))).Json;
            Assert.Equal(("accepted", "Show window", "Skirting chipped", "Ben Marsh", "2027-03-16", 2),
                ((string?)snag["state"], (string?)snag["where"], (string?)snag["what"], (string?)snag["owner"]!["name"],
                    (string?)snag["due"], (int)snag["ageDays"]!));
            Assert.Equal(("Asha Rowan", "p1"), ((string?)snag["raisedBy"]!["name"], (string?)snag["raisedBy"]!["person"]));
            Assert.Equal(["fixed", "notFixed", "handedOn", "acceptedOpen"],
                snag["acts"]!.AsArray().Select(act => (string?)act!["kind"]));
            Assert.Equal(("Asha Rowan", "Filled.", "2027-03-08T23:00:00Z"), ((string?)snag["acts"]![0]!["by"]!["name"],
                (string?)snag["acts"]![0]!["note"], (string?)snag["acts"]![0]!["at"]));
            Assert.Single((await ExpectStatus(200, reader.Get(Snags))).Json["snags"]!.AsArray());
        }
        Assert.Equal(404, (await week.Lead.Get($"{Snags}/2")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Snags}/phone-1.1")).Status);
    }

    /// <summary>A phone that was without network for the night sends what it has, and does not know the number.</summary>
    [Fact]
    public async Task A_snag_raised_and_put_right_without_network_arrives_in_one_queue()
    {
        var (_, week) = await Opened();
        var raise = JsonNode.Parse(Chipped)!.AsObject();
        raise["kind"] = "snags";
        var queue = new JsonObject
        {
            ["reports"] = new JsonArray(
                JsonNode.Parse("""{"kind": "fixed", "snag": "phone-1.1", "id": "f1", "at": "2027-03-08T23:00:00Z"}"""),
                raise,
                JsonNode.Parse("""{"kind": "fixed", "snag": "7", "id": "f2", "at": "2027-03-08T23:00:00Z"}""")),
        };
        for (var time = 0; time < 2; time++)
        {
            var answers = (await ExpectStatus(200, week.Lead.Post($"{Address}/reports", queue.ToJsonString()))).Json["answers"]!;
            Assert.Equal([204, 201, 404], answers.AsArray().Select(answer => (int)answer!["status"]!));
            Assert.Equal(1, (int)answers[1]!["snag"]!);
        }
        Assert.Equal("fixed", (string?)(await week.Lead.Get($"{Snags}/1")).Json["state"]);
    }

    [Fact]
    public async Task Only_the_lead_hands_on_and_accepts_and_nobody_accepts_a_danger()
    {
        var (chain, week) = await Opened();
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        await ExpectStatus(201, crew.Post(Snags, Chipped.Replace("\"due\"", "\"safety\": true, \"due\"")));
        foreach (var act in new[] { "handed-on", "accepted-open" })
            Assert.Equal("other-role", (await crew.Post($"{Snags}/1/{act}",
                """{"id": "x1", "at": "2027-03-08T23:00:00Z", "due": "2027-03-16"}""")).Code);
        Assert.Equal("other-role", (await chain.HeadOffice.Post(Snags, Chipped)).Code);
        var accepted = await week.Lead.Post($"{Snags}/1/accepted-open", """{"id": "a1", "at": "2027-03-08T23:00:00Z"}""");
        Assert.Equal((409, "safety-critical"), (accepted.Status, accepted.Code));
    }

    [Theory]
    [InlineData("\"zone\": \"window\"", "\"zone\": \"window\", \"display\": \"wall\"", "")]
    [InlineData("\"zone\": \"window\",", "", "")]
    [InlineData("phone-1.1", "117", "/id")]
    [InlineData("\"store\"", "\"person\"", "/person")]
    [InlineData("\"store\"", "\"store\", \"trade\": \"joiner\"", "/trade")]
    [InlineData("2027-03-12", "2027-02-30", "/due")]
    [InlineData("2027-03-12", "12 March", "/due")]
    [InlineData("\"owner\": \"store\",", "", "/owner")]
    [InlineData("\"zone\": \"window\"", "\"piece\": 0", "/piece")]
    public async Task A_snag_that_cannot_be_read_is_400_with_the_place_of_the_fault(string was, string now, string pointer)
    {
        var (_, week) = await Opened();
        var answer = await ExpectStatus(400, week.Lead.Post(Snags, Chipped.Replace(was, now)));
        Assert.Contains(pointer, answer.Json["errors"]!.AsArray().Select(fault => (string?)fault!["pointer"]));
    }

    [Fact]
    public async Task Texts_are_outside_events_and_an_erased_person_is_removed_from_them()
    {
        var (chain, week) = await Opened();
        await ExpectStatus(201, week.Lead.Post(Snags, Chipped));
        await ExpectStatus(204, week.Lead.Post($"{Snags}/1/fixed", """{"id": "f1", "at": "2027-03-08T23:00:00Z", "note": "By Ben."}"""));
        var events = await service.EventsOf(chain);
        Assert.All(["Skirting", "before we came", "By Ben"], text => Assert.DoesNotContain(text, events));
        Assert.DoesNotContain("Skirting", (await chain.HeadOffice.Get("/feed")).Text);
        await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Address}/crew/p2", (string?)null));
        var snag = (await week.Lead.Get($"{Snags}/1")).Json;
        Assert.Equal(("p2 says: before we came", "By p2."), ((string?)snag["why"], (string?)snag["acts"]![0]!["note"]));
        Assert.DoesNotContain("Ben", await service.DocumentsOf(chain));
    }

    [Fact]
    public async Task The_list_of_the_chain_has_what_is_open_in_the_stores_of_the_caller()
    {
        var (chain, week) = await Opened();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane")));
        await ExpectStatus(201, chain.HeadOffice.Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        foreach (var n in new[] { 1, 2, 3 })
            await ExpectStatus(201, week.Lead.Post(Snags, Chipped.Replace("phone-1.1", $"phone-1.{n}")));
        await ExpectStatus(204, week.Lead.Post($"{Snags}/2/fixed", """{"id": "f1", "at": "2027-03-08T23:00:00Z"}"""));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks/first-rain.mill-lane/snags", Chipped));
        Assert.Equal(["harbour-street 1", "harbour-street 3", "mill-lane 1"], await Listed(chain.HeadOffice, ""));
        Assert.Equal(["mill-lane 1"], await Listed(chain.LeadOf("mill-lane"), ""));
        Assert.Equal(["harbour-street 1", "harbour-street 3"], await Listed(chain.HeadOffice, "?store=harbour-street"));
        var first = await ExpectStatus(200, chain.HeadOffice.Get("/snags?limit=1"));
        Assert.Equal("Skirting chipped", (string?)first.Json["snags"]![0]!["what"]);
        Assert.NotNull(first.Link);

        static async Task<IEnumerable<string>> Listed(ApiClient client, string query) =>
            (await ExpectStatus(200, client.Get($"/snags{query}"))).Json["snags"]!.AsArray()
                .Select(snag => $"{snag!["store"]} {snag["number"]}");
    }

    private async Task<(Chain, FirstRain)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-10T08:00"); // after everything that is reported
        return (chain, week);
    }
}
