using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Notifications;

/// <summary>Who is told of a published plan, and who sees and agrees. The forms come late, so that issue 2 moves a shift.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ToldTests(RunningService service)
{
    private const string Told = $"{Address}/told", Store = "harbour-street";

    private static readonly string WithNotice = Opening.Replace("\"minPeople\": 2,", "\"minPeople\": 2, \"noticeMinutes\": 10080,");

    [Fact]
    public async Task A_lead_records_with_the_page_alone_who_was_told_and_takes_a_mistake_back()
    {
        var (chain, week) = await TwoIssues();
        using var lead = await chain.SignedIn("lena", Role.Lead, Store);
        lead.FormToken = null;
        var page = await Page(lead, Told);
        Assert.Contains("Issue 2 is the store’s plan", page);
        Assert.Contains("Not told yet, and not seen.", page);
        var person = (await People(week.Lead))[0];
        var (id, name) = ((string)person["person"]!, (string)person["name"]!);

        var recorded = await lead.PressButton(page, $"I told {name}");
        Assert.Equal((303, Told), (recorded.Status, recorded.Location!));
        person = (await People(week.Lead)).Single(other => (string?)other["person"] == id);
        Assert.Equal(("said", "lena"), ((string?)person["told"]![0]!["how"], (string?)person["told"]![0]!["by"]));
        page = await Page(lead, Told);
        Assert.Contains("Told Sunday 7 March, 12:00, face to face, by lena.", page);

        var agreed = await lead.PressButton(page, $"{name} agrees");
        Assert.Contains("Agreed Sunday 7 March, 12:00, as lena has recorded for them.", await Page(lead, Told));
        var back = await lead.PressButton(page, $"A mistake: {name} was not told");
        Assert.Equal(303, back.Status);
        Assert.Empty((await People(week.Lead)).Single(other => (string?)other["person"] == id)["told"]!.AsArray());
    }

    [Fact]
    public async Task A_person_opens_their_changes_which_is_recorded_once_and_answers_for_themselves()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        using var own = await chain.SignedIn(id, Role.Crew, Store);
        own.FormToken = null;
        var page = await Page(own, $"{Told}/{id}");
        Assert.Contains("What changes for ", page);
        Assert.Contains((string)(await Of(week, id))["sentences"]![0]!, page);
        Assert.Contains("Local law, local codes and contracts come first.", page); // a week's notice was asked for
        Assert.DoesNotContain("£", page);
        Assert.Contains($"<a href=\"{Told}\" aria-current=\"page\">My changes</a>", page);
        var seen = (string?)(await Of(week, id))["seen"];
        Assert.NotNull(seen);
        var all = await own.Api.Get(Told, ("Accept", "text/html")); // the link in the head leads to the own page
        Assert.Equal((303, $"{Told}/{id}"), (all.Status, all.Location));
        chain.Clock.MoveTo("2027-03-07T15:00");
        await Page(own, $"{Told}/{id}");
        Assert.Equal(seen, (string?)(await Of(week, id))["seen"]);

        var answered = await own.PressButton(page, "I cannot");
        Assert.Equal($"{Told}/{id}", answered.Location!);
        Assert.Equal(("declined", false), ((string?)(await Of(week, id))["answer"]!["answer"], (bool)(await Of(week, id))["answer"]!["forThem"]!));
        Assert.Contains("Said that they cannot", await Page(own, $"{Told}/{id}"));
        var counts = (await chain.HeadOffice.Get(Told)).Json["counts"]!;
        Assert.Equal((1, 1), ((int)counts["seen"]!, (int)counts["declined"]!));
    }

    [Fact]
    public async Task To_look_at_the_changes_overtakes_no_form_of_a_lead_and_an_answer_does()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        using var lead = await chain.SignedIn("lena", Role.Lead, Store);
        lead.FormToken = null;
        var form = (await ExpectStatus(200, lead.Api.Get($"{Address}/facts/crew/p3", ("Accept", "text/html")))).Text;
        var crew = chain.As(id, Role.Crew, Store);
        await ExpectStatus(200, crew.Get($"{Told}/{id}"));
        Assert.NotNull((await Of(week, id))["seen"]);

        var sent = await lead.PressButton(form, "Keep these particulars", ("name", "Cleo Marsh"));
        Assert.True(sent.Status == 303, sent.Text);
        var version = await week.ETag();
        await ExpectStatus(204, crew.Post($"{Told}/{id}/answer", """{"answer": "declined"}"""));
        Assert.Equal(412, (await week.Lead.Put($"{Address}/rules", """{"minPeople": 3}""", ("If-Match", version))).Status);
    }

    [Fact]
    public async Task Tonight_leads_to_a_changed_shift_until_it_is_answered()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        using var own = await chain.SignedIn(id, Role.Crew, Store);
        own.FormToken = null;
        var tonight = $"{Address}/nights/monday/sheet?person={id}";
        foreach (var address in new[] { tonight, tonight, $"{Address}/nights/monday/sheet" }) // the first visit records that they saw it
        {
            var page = await Page(own, address);
            Assert.Contains("<strong>Issue 2 of the plan changes your shift.</strong>", page);
            Assert.Contains($"<a href=\"{Told}/{id}\">See what changes, and say whether you can come</a>", page);
        }
        using var lead = await chain.SignedIn("lena", Role.Lead, Store);
        Assert.DoesNotContain("changes your shift", await Page(lead, tonight));
        var agreed = await own.PressButton(await Page(own, $"{Told}/{id}"), "I agree");
        Assert.DoesNotContain("changes your shift", await Page(own, tonight));
    }

    [Fact]
    public async Task Several_phones_of_a_person_at_once_record_it_once()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        var crew = chain.As(id, Role.Crew, Store);
        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => crew.Get($"{Told}/{id}")));
        Assert.All(answers, answer => Assert.Equal(200, answer.Status));
        var history = (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray();
        var seen = Assert.Single(history, entry => (string?)entry!["type"] == "changes-seen")!;
        Assert.Equal(id, (string?)seen["who"]); // a lead reads who
    }

    [Fact]
    public async Task The_night_sheet_counts_as_seen_too()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        var other = id == "p1" ? "p2" : "p1";
        await ExpectStatus(200, chain.As(id, Role.Crew, Store).Get($"{Address}/nights/monday/sheet?person={other}"));
        Assert.Null((await Of(week, id))["seen"]);
        await ExpectStatus(200, chain.As(id, Role.Crew, Store).Get($"{Address}/nights/monday/sheet?person={id}"));
        Assert.Equal("2027-03-07T12:00:00Z", (string?)(await Of(week, id))["seen"]);
    }

    [Fact]
    public async Task Crew_see_themselves_alone_and_head_office_sees_counts_and_no_names()
    {
        var (chain, week) = await TwoIssues();
        var id = await MovedPerson(week);
        var names = (await People(week.Lead)).Select(person => (string)person["name"]!).ToList();
        await ExpectStatus(204, week.Lead.Post($"{Told}/{id}/answer", """{"answer": "declined"}"""));

        var crew = chain.As(id, Role.Crew, Store);
        Assert.Equal([id], (await crew.Get(Told)).Json["people"]!.AsArray().Select(person => (string?)person!["person"]));
        var stranger = id == "p1" ? "p2" : "p1";
        Assert.Equal((403, "another-person"), await StatusAndCode(crew.Get($"{Told}/{stranger}")));
        Assert.Equal((403, "another-person"), await StatusAndCode(crew.Post($"{Told}/{stranger}/answer", """{"answer": "agreed"}""")));
        Assert.Equal((403, "other-role"), await StatusAndCode(crew.Post(Told, $$"""{"people": ["{{id}}"], "how": "said"}""")));
        Assert.Equal((403, "other-role"), await StatusAndCode(chain.HeadOffice.Get($"{Told}/{id}")));

        foreach (var role in new[] { Role.HeadOffice, Role.Region, Role.Engineer })
        {
            var reader = chain.As("reader", role);
            var view = (await ExpectStatus(200, reader.Get(Told))).Json;
            Assert.Null(view["people"]);
            Assert.Equal(1, (int)view["counts"]!["declined"]!);
            var page = (await ExpectStatus(200, reader.Get(Told, ("Accept", "text/html")))).Text;
            var history = (await ExpectStatus(200, reader.Get($"{Address}/history"))).Json["events"]!.AsArray();
            var answer = history.Single(entry => (string?)entry!["type"] == "changes-answered")!;
            Assert.Null(answer["who"]);
            foreach (var name in names)
            {
                Assert.DoesNotContain(name, page);
                Assert.DoesNotContain(name, (string)answer["sentence"]!);
            }
        }
        var figures = (await chain.HeadOffice.Get("/figures")).Json["weeks"]!.AsArray();
        Assert.All(figures, row => Assert.NotNull(row!["figures"]!["uninformed"]));
    }

    [Fact]
    public async Task What_a_page_of_an_older_issue_sends_is_refused_and_the_older_issue_can_be_read()
    {
        var (_, week) = await TwoIssues();
        var id = await MovedPerson(week);
        Assert.Equal((409, "another-issue"),
            await StatusAndCode(week.Lead.Post(Told, $$"""{"people": ["{{id}}"], "how": "said", "issue": 1}""")));
        Assert.Equal((409, "in-future"),
            await StatusAndCode(week.Lead.Post(Told, $$"""{"people": ["{{id}}"], "how": "said", "at": "2027-03-07T12:01"}""")));
        var first = (await ExpectStatus(200, week.Lead.Get($"{Told}?issue=1"))).Json;
        Assert.False((bool)first["isCurrent"]!);
        Assert.All(first["people"]!.AsArray(), person => Assert.Contains("you have a new shift", (string?)person!["sentences"]![0]));
        Assert.Contains("Issue 1 was replaced", (await week.Lead.Get($"{Told}?issue=1", ("Accept", "text/html"))).Text);
        Assert.Equal(404, (await week.Lead.Get($"{Told}?issue=9")).Status);
        Assert.Equal((400, "no-issue"), await StatusAndCode(week.Lead.Get($"{Told}?issue=none")));
    }

    [Fact]
    public async Task Before_a_plan_is_published_there_is_nobody_to_tell()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get(Told)));
        Assert.Equal((404, "nothing-published"), await StatusAndCode(week.Lead.Get($"{Told}/p1")));
        Assert.Equal(404, (await week.Lead.Get($"{Told}/p9")).Status);
    }

    /// <summary>The link to it stands in the head of every page of the week.</summary>
    [Fact]
    public async Task Before_a_plan_is_published_a_page_says_so()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        foreach (var (role, person) in new[] { (Role.Lead, "lena"), (Role.Crew, "p1"), (Role.Region, "rae"), (Role.HeadOffice, "hana") })
        {
            using var reader = await chain.SignedIn(person, role, Store);
            var page = await Page(reader, Told);
            Assert.Contains("<h1>Nothing is published yet</h1>", page);
            Assert.Contains(role == Role.Crew ? "what it changes for you" : "who has been told and who agrees", page);
            Assert.Contains($"<a href=\"{Told}\" aria-current=\"page\">", page);
            Assert.Contains($"<a href=\"{Address}/plan\">The week as it is now</a>", page);
        }
        using var own = await chain.SignedIn("p1", Role.Crew, Store);
        Assert.Contains("Nothing is published yet", await Page(own, $"{Told}/p1"));
    }

    private async Task<(Chain Chain, FirstRain Week)> TwoIssues()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: WithNotice);
        chain.Clock.MoveTo("2027-03-07T12:00");
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        await week.PlanAndPublish();
        return (chain, week);
    }

    private static async Task<IReadOnlyList<JsonNode>> People(ApiClient lead) =>
        [.. (await ExpectStatus(200, lead.Get(Told))).Json["people"]!.AsArray().OfType<JsonNode>()];

    private static async Task<JsonNode> Of(FirstRain week, string id) =>
        (await People(week.Lead)).Single(person => (string?)person["person"] == id);

    /// <summary>The first person whose shift changes.</summary>
    private static async Task<string> MovedPerson(FirstRain week) =>
        (string)(await People(week.Lead)).First(person => (bool)person["shiftsChange"]!)["person"]!;

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return WebUtility.HtmlDecode(answer.Text);
    }

    private static async Task<(int, string?)> StatusAndCode(Task<ApiResponse> request) =>
        await request is var heard ? (heard.Status, heard.Code) : default;
}
