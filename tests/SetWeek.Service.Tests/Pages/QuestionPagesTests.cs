using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Solving;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>The crew asks and head office answers with the pages alone, in browsers without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class QuestionPagesTests(RunningService service)
{
    private const string Questions = $"{Address}/questions", Hostile = "<script>alert(1)</script> \"May we?\"";

    [Fact]
    public async Task The_crew_asks_and_head_office_answers_for_every_store()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-08T22:05");
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        using var crew = await SignedIn(chain, "p3", Role.Crew, "harbour-street");
        var asked = await crew.PressButton(await Page(crew, Questions), "Ask",
            ("for", "headOffice"), ("text", Hostile), ("task", "wall.paint"));
        Assert.Equal((303, Questions), (asked.Status, asked.Location!));
        var shown = Markup.TextOf(await Page(crew, Questions));
        Assert.Contains(Hostile, shown, StringComparison.Ordinal);
        Assert.Contains("Asked of head office, Monday 8 March, 22:05, by Cleo Strand, about Paint the wall.", shown,
            StringComparison.Ordinal);
        Assert.Contains("One question waits for an answer.", shown, StringComparison.Ordinal);

        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        await ServiceProcess.Until(async () => (await Page(head, "/questions")).Contains("May we?", StringComparison.Ordinal));
        var answered = await head.PressButton(await Page(head, "/questions"), "Answer for every store",
            ("text", "Yes, with the fan on."));
        Assert.Equal((303, "/questions"), (answered.Status, answered.Location!));
        Assert.Contains("Answered Monday 8 March, 22:05 by head office (ada), for every store.",
            Markup.TextOf(await Page(crew, Questions)), StringComparison.Ordinal);

        using var other = await SignedIn(chain, "p1", Role.Crew, "mill-lane");
        const string others = "/weeks/first-rain.mill-lane/questions";
        await ServiceProcess.Until(async () => (await Page(other, others)).Contains("with the fan on", StringComparison.Ordinal));
        var read = Markup.TextOf(await Page(other, others));
        Assert.Contains("Answered for every store", read, StringComparison.Ordinal);
        Assert.DoesNotContain("Cleo", read, StringComparison.Ordinal); // nobody of another store is named
        Assert.DoesNotContain("(ada)", read, StringComparison.Ordinal);
        var json = (await other.Api.Get(others)).Json["fromOthers"]![0]!;
        Assert.Equal((null, null, "headOffice"),
            ((string?)json["by"], (string?)json["answer"]!["by"], (string?)json["answer"]!["from"]));
    }

    [Fact]
    public async Task A_lead_answers_what_the_crew_asks_the_lead_and_corrects_the_answer()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var lead = await SignedIn(chain, "lena", Role.Lead, "harbour-street");
        var asked = await lead.PressButton(
            await Page(lead, Questions), "Ask", ("text", "Who has the key?"), ("display", "wall"));
        var answered = await lead.PressButton(await Page(lead, Questions), "Answer", ("text", "Asha."));
        Assert.Equal(303, answered.Status);
        Assert.DoesNotContain("Answer for every store", await Page(lead, Questions), StringComparison.Ordinal);
        var corrected = await lead.PressButton(await Page(lead, Questions), "Answer", ("text", "Ben."));
        Assert.Equal(303, corrected.Status);
        var text = Markup.TextOf(await Page(lead, Questions));
        Assert.Contains("Ben.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Asha.", text, StringComparison.Ordinal);
        Assert.Contains("Every question of this week is answered.", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_question_for_head_office_has_no_answer_form_for_a_lead_and_a_token_gets_no_form()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(204, week.Lead.Post(Questions,
            """{"id": "q1", "for": "headOffice", "text": "Is it right?", "at": "2027-03-08T22:01:00Z"}"""));
        using var lead = await SignedIn(chain, "lena", Role.Lead, "harbour-street");
        Assert.DoesNotContain("Your answer", await Page(lead, Questions), StringComparison.Ordinal);
        var page = await ExpectStatus(200, week.Lead.Get(Questions, ("Accept", "text/html")));
        Assert.DoesNotContain("method=\"post\"", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Harbour Street", await Page(await SignedIn(chain, "rex", Role.Region, "mill-lane"), "/questions"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Questions_about_the_same_display_lead_to_each_other_and_later_ones_are_a_link_away()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        await ExpectStatus(201, chain.LeadOf("mill-lane").Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        var other = chain.LeadOf("mill-lane");
        await Ask(week.Lead, "harbour-street", "q1", "\"task\": \"wall.paint\"");
        await Ask(other, "mill-lane", "q2", "\"display\": \"wall\"");
        await Ask(other, "mill-lane", "q3", "\"task\": \"cycle.panel.fix\"");
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        await ServiceProcess.Until(async () => Markup.TextOf(await Page(head, "/questions"))
            .Contains("3 questions wait.", StringComparison.Ordinal));
        var page = Markup.Of(await Page(head, "/questions"));
        var alike = page.Descendants("a").Where(link => ((string?)link.Attribute("href"))?.StartsWith('#') == true
            && link.Value is "Mill Lane" or "Harbour Street").Select(link => (string)link.Attribute("href")!);
        Assert.Equal(["#q-first-rain.mill-lane-q2", "#q-first-rain.harbour-street-q1"], alike);

        var first = Markup.Of(await Page(head, "/questions?limit=2&for=headOffice&direction=&state=open"));
        var next = (string)first.Descendants("a").Single(link => link.Value == "Later questions").Attribute("href")!;
        Assert.Contains("q-first-rain.mill-lane-q3", await Page(head, next), StringComparison.Ordinal);
        Assert.Contains("No question is answered yet.", Markup.TextOf(await Page(head, "/questions?state=answered")),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Head_office_answers_several_at_once_and_each_store_that_asked_has_the_answer_once()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (store, name) in new[] { ("mill-lane", "Mill Lane"), ("quay", "Quay") })
        {
            await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store(store, name)));
            await ExpectStatus(201, chain.LeadOf(store).Post("/weeks", Opening.Replace("harbour-street", store)));
        }
        await Ask(week.Lead, "harbour-street", "q1", "\"display\": \"wall\"");
        await Ask(chain.LeadOf("mill-lane"), "mill-lane", "q2", "\"display\": \"wall\"");
        await Ask(chain.LeadOf("mill-lane"), "mill-lane", "q3", "\"display\": \"wall\"");
        using var head = await SignedIn(chain, "ada", Role.HeadOffice);
        await ServiceProcess.Until(async () => Markup.TextOf(await Page(head, "/questions"))
            .Contains("3 questions wait.", StringComparison.Ordinal));
        var page = Markup.Of(await Page(head, "/questions"));
        // Each names the other store once, although that one asked twice, and none names its own.
        Assert.Equal(["Harbour Street", "Harbour Street", "Mill Lane"], page.Descendants("p")
            .Where(line => line.Value.Contains("Also asked about this display", StringComparison.Ordinal))
            .SelectMany(line => line.Descendants("a")).Select(link => link.Value).Order());
        var boxes = page.Descendants("input").Where(input => (string?)input.Attribute("form") == "together")
            .Select(input => (string)input.Attribute("value")!).ToList();
        Assert.Equal(3, boxes.Count);
        var token = (string)page.Descendants("form").Single(form => (string?)form.Attribute("id") == "together")
            .Descendants("input").Single(input => (string?)input.Attribute("name") == ":token").Attribute("value")!;

        var none = await Send(); // nothing is ticked: what was typed is still there
        Assert.Equal(400, none.Status);
        var again = none.Text;
        Assert.Contains("Choose at least one question.", Markup.TextOf(again), StringComparison.Ordinal);
        Assert.Contains("The blue one.", again, StringComparison.Ordinal);

        var sent = await Send([.. boxes.Where(box => !box.EndsWith("q3", StringComparison.Ordinal)), "toAll"]);
        Assert.Equal((303, "/questions"), (sent.Status, sent.Location));
        foreach (var (client, store, question) in new[] { (week.Lead, "harbour-street", "q1"), (chain.LeadOf("mill-lane"), "mill-lane", "q2") })
        {
            var own = (await ExpectStatus(200, client.Get($"/weeks/first-rain.{store}/questions"))).Json;
            Assert.Equal("The blue one.", (string?)own["questions"]!.AsArray()
                .Single(asked => (string?)asked!["id"] == question)!["answer"]!["text"]);
            Assert.Empty(own["fromOthers"]!.AsArray());
        }
        // A store that did not ask reads it once.
        const string quay = "/weeks/first-rain.quay/questions";
        await ServiceProcess.Until(async () =>
            (await chain.LeadOf("quay").Get(quay)).Json["fromOthers"]!.AsArray().Count > 0);
        Assert.Equal("The blue one.", (string?)Assert.Single((await chain.LeadOf("quay").Get(quay)).Json["fromOthers"]!.AsArray())!
            ["answer"]!["text"]);

        // One of them is answered by now, so that the third is not answered either.
        var late = await Send([.. boxes]);
        Assert.Equal(409, late.Status);
        Assert.Contains("Harbour Street has an answer to a question that you chose.",
            Markup.TextOf(late.Text), StringComparison.Ordinal);
        Assert.Null((await chain.LeadOf("mill-lane").Get("/weeks/first-rain.mill-lane/questions")).Json["questions"]!.AsArray()
            .Single(asked => (string?)asked!["id"] == "q3")!["answer"]);

        Task<ApiResponse> Send(params IReadOnlyList<string> chosen) => head.PostForm("/questions/answers",
        [
            new(":token", token), new(":from", "/questions"), new(":then", "/questions"), new("text", "The blue one."),
            .. chosen.Select(box => box == "toAll" ? KeyValuePair.Create("toAll:boolean", "true")
                : KeyValuePair.Create("questions:list", box)),
        ]);
    }

    [Theory]
    [InlineData("\"/weeks/first-rain.harbour-street\"", 400, "/questions/0")]
    [InlineData("", 400, "/questions")]
    [InlineData("\"/weeks/first-rain.harbour-street/questions/q1\", \"/weeks/none/questions/q1\"", 422, "/questions/1")]
    [InlineData("\"/weeks/first-rain.harbour-street/questions/none\"", 404, null)]
    public async Task A_question_that_is_not_there_leaves_the_others_unanswered(string questions, int status, string? pointer)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await Ask(week.Lead, "harbour-street", "q1", "\"display\": \"wall\"");
        var refused = await ExpectStatus(status, chain.HeadOffice.Post("/questions/answers",
            $$"""{"questions": [{{questions}}], "text": "Yes."}"""));
        if (pointer is not null) Assert.Equal(pointer, (string?)refused.Json["errors"]![0]!["pointer"]);
        Assert.Null((await week.Lead.Get(Questions)).Json["questions"]![0]!["answer"]);
        Assert.Equal("other-role", (await week.Lead.Post("/questions/answers",
            $$"""{"questions": ["{{Questions}}/q1"], "text": "Yes."}""")).Code);
    }

    private static Task Ask(ApiClient client, string store, string id, string about) => ExpectStatus(204,
        client.Post($"/weeks/first-rain.{store}/questions",
            $$"""{"id": "{{id}}", "for": "headOffice", "text": "Which?", "at": "2027-03-08T22:0{{id[1]}}:00Z", {{about}}}"""));

    /// <summary>Its forms carry their own token.</summary>
    private static async Task<Browser> SignedIn(Chain chain, string person, Role role, params string[] stores)
    {
        var browser = await chain.SignedIn(person, role, stores);
        browser.FormToken = null;
        return browser;
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
