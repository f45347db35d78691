using System.Net;
using System.Text.Json.Nodes;
using AngleSharp.Html.Parser;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.NewWeeks;

/// <summary>A lead opens a week and gets from there to a published plan by forms alone, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NewWeekPagesTests(RunningService service)
{
    private const string NewWeek = "/stores/harbour-street/new-week";

    private static readonly (string, string)[] Answers =
        [("direction", "first-rain"), ("launch", "2027-03-12T09:00"), ("nights", "3"), ("opens", "20:00"), ("closes", "00:00")];

    [Fact]
    public async Task From_no_week_to_a_published_plan()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        chain.Clock.MoveTo("2027-03-01T12:00");
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        Assert.Contains($"href=\"{NewWeek}\">Open a week in Harbour Street</a>", await Page(lead, "/"));
        Assert.Contains($"href=\"{NewWeek}\"", await Page(lead, "/stores/harbour-street"));

        var offer = await lead.PressButton(await Raw(lead, NewWeek), "Go on",
            [.. Answers, ("rules", "great-britain"), ("rules", "quillmere")]);
        var offered = Markup.TextOf(offer.Text);
        Assert.Contains("“Cycle panel” replaces “Cycle on its stand”", offered);
        Assert.Contains("The night of Tuesday 9 March", offered);
        Assert.Contains("Least rest between two shifts, in minutes: 660. Working Time Regulations 1998 (SI 1998/1833), reg 10(1)", offered);
        var refused = await lead.PressButton(offer.Text, "Open this week",
            ("currency", "pounds"), ("kits[0].eta:row", "2027-03-09T12:00"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("name=\"currency\" type=\"text\" value=\"pounds\" aria-invalid=\"true\"", refused.Text);
        var opened = await lead.PressButton(refused.Text, "Open this week", ("currency", "GBP"));
        Assert.Equal((303, $"{Address}/plan"), (opened.Status, opened.Location));

        var empty = await Page(lead, opened.Location!);
        Assert.Contains("Painting needs 1 person at once; the crew has nobody.", empty);
        Assert.Contains("Nobody has the keys", empty);
        Assert.Contains("You can ask for a plan once somebody has joined.", empty);
        foreach (var (name, keys, painting) in new[] { ("Asha Rowan", "true", "2"), ("Ben Marsh", "false", "") })
        {
            var joined = await lead.PressButton(await Raw(lead, $"{Address}/facts/crew"), "Add to the crew", ("name", name),
                ("keyholder:boolean", keys), ("ratePerHour:number", "1400"), ("skills.painting:number", painting), ("skills.dressing:number", "2"));
            Assert.True(joined.Status == 303, joined.Text);
        }
        var ready = await Raw(lead, $"{Address}/plan");
        Assert.DoesNotContain("at once; the crew has", ready);
        var asked = await lead.PressButton(ready, "Ask for a plan", ("seconds:number", "1"));
        Assert.Equal("ready", (string?)(await new FirstRain(chain).Settled(asked.Location!))["state"]);
        var published = await lead.PressButton(await Raw(lead, asked.Location!), "Publish this plan");
        Assert.True(published.Status == 303, published.Text);
        Assert.Contains("Issue 1", await Page(lead, $"{Address}/plan"));
    }

    [Fact]
    public async Task A_second_week_begins_with_the_nights_the_rules_and_the_people_of_the_last()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: Opening.Replace("\"closes\": \"2027-03-11T00:00\"}",
            "\"closes\": \"2027-03-11T00:00\", \"bans\": [{\"trait\": \"noisy\", \"from\": \"2027-03-10T22:00\", \"to\": \"2027-03-10T23:00\"}]}"));
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        var first = await Raw(lead, NewWeek);
        Assert.Contains("type=\"time\" value=\"20:00\"", first);
        var offer = await lead.PressButton(first, "Go on", ("launch", "2027-04-09T09:00"));
        var form = PageForm.With(offer.Text, "Open this week").Untick("crewFrom.people:list", "p3").Fill("nights[0].opens:row", "");
        var opened = await form.Send(lead);
        Assert.Equal((303, $"/weeks/{Id}-2/plan"), (opened.Status, opened.Location));

        var (before, file) = (await File(week.Lead, Id), await File(week.Lead, $"{Id}-2"));
        Assert.Equal(["2027-04-07T20:00", "2027-04-08T20:00"], file["nights"]!.AsArray().Select(night => (string?)night!["opens"]));
        // The night of the ban lay two days before its launch, and so does the first that is left.
        Assert.Equal("2027-04-07T22:00", (string?)file["nights"]![0]!["bans"]![0]!["from"]);
        Assert.Equal(["p1", "p2"], file["crew"]!.AsArray().Select(member => (string?)member!["id"]));
        Assert.All(file["crew"]!.AsArray(), member => Assert.Equal(["night-2", "night-3"],
            member!["available"]!.AsArray().Select(entry => (string?)entry!["night"])));
        foreach (var same in new[] { "rules", "goals", "replanGoals", "hold", "currency" })
            Assert.True(JsonNode.DeepEquals(before[same], file[same]), $"{same}: {file[same]?.ToJsonString()}");
    }

    /// <summary>The form passes on what its page does not edit; a fault of that has no field to stand beside.</summary>
    [Theory]
    [InlineData(422, "name=\"direction\" value=\"first-rain\"", "first-rain", "last-rain", "direction: There is no direction “last-rain”; issue it first.")]
    [InlineData(400, "bans[0].from\" value=\"2027-04-07T22:00\"", "2027-04-07T22:00", "later", "bans 1, from: ")]
    [InlineData(422, "name=\"crewFrom.week\" value=\"first-rain.harbour-street\"", "first-rain.harbour-street", "none", "crewFrom, week: This store has no week “none”.")]
    public async Task A_fault_of_what_the_form_only_passes_on_stands_before_it(
        int status, string hidden, string value, string other, string sentence)
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open(opening: Opening.Replace("\"closes\": \"2027-03-11T00:00\"}",
            "\"closes\": \"2027-03-11T00:00\", \"bans\": [{\"trait\": \"noisy\", \"from\": \"2027-03-10T22:00\", \"to\": \"2027-03-10T23:00\"}]}"));
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        var offer = (await lead.PressButton(await Raw(lead, NewWeek), "Go on", ("launch", "2027-04-09T09:00"))).Text;
        Assert.Contains(hidden, offer);
        var refused = await lead.PressButton(offer.Replace(hidden, hidden.Replace(value, other)), "Open this week");
        Assert.Equal(status, refused.Status);
        var alert = new HtmlParser().ParseDocument(refused.Text).QuerySelector("[role=alert]")!.TextContent;
        Assert.Contains(sentence.Replace('“', '"').Replace('”', '"'), alert);
    }

    [Fact]
    public async Task What_is_missing_on_the_first_page_stands_beside_its_field()
    {
        var chain = service.NewChain();
        using var office = await chain.SignedIn("hana", Role.HeadOffice);
        Assert.Equal(404, (await office.Api.Get(NewWeek, ("Accept", "text/html"))).Status);
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        Assert.Contains("Head office has issued no direction yet.", await Page(office, NewWeek));
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        var answer = await office.PressButton(await Raw(office, NewWeek), "Go on", [.. Answers, ("launch", "soon"), ("nights", "40")]);
        var again = WebUtility.HtmlDecode(answer.Text);
        Assert.Contains("value=\"soon\" aria-invalid=\"true\"", again);
        Assert.Contains("Give a number from 1 to 21.", again);
        Assert.Contains("Tick at least one.", again);
        Assert.Contains("value=\"20:00\"", again);
        Assert.Equal(406, (await chain.HeadOffice.Get(NewWeek, ("Accept", "application/json"))).Status);
    }

    /// <summary>The numbers: ops/rule-sets/oregon.json and european-union.json.</summary>
    [Fact]
    public async Task Beside_each_citation_stands_the_number_of_its_own_set()
    {
        var (_, lead) = await Prepared();
        var offer = Markup.TextOf((await lead.PressButton(await Raw(lead, NewWeek), "Go on",
            [.. Answers, ("rules", "oregon"), ("rules", "european-union")])).Text);
        Assert.Contains("Least rest between two shifts, in minutes: 600. ORS 653.442; OAR 839-026-0040: 10 hours, planned as if nobody had "
            + "consented to less. From the text itself. Plans keep the stricter one: 660.", offer);
        Assert.Contains("Least rest between two shifts, in minutes: 660. Directive 2003/88/EC, art. 3", offer);
        Assert.Contains("art. 10: 12 consecutive hours. From memory.", offer);
        Assert.Single(System.Text.RegularExpressions.Regex.Matches(offer, "Plans keep the stricter one"));
    }

    [Theory]
    [InlineData("mars", "There is no such rule set; choose one.")]
    [InlineData("last", "There is no such rule set; choose one.")] // the store has no last week
    [InlineData("none&rules=oregon", "Tick either none or the sets that apply.")]
    public async Task Rules_that_would_silently_be_none_are_refused(string rules, string reason)
    {
        var (_, lead) = await Prepared();
        var query = string.Join('&', Answers.Select(answer => $"{answer.Item1}={answer.Item2}"));
        var page = await Page(lead, $"{NewWeek}?{query}&rules={rules}");
        Assert.Contains($"id=\"week-rules-fault\">{reason}</p>", page);
        Assert.DoesNotContain("Open this week", page);
        Assert.Contains("Open this week", await Page(lead, $"{NewWeek}?{query}&rules=none"));
    }

    [Fact]
    public async Task A_week_with_the_rules_of_a_last_week_that_had_none_has_none()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open(opening: Opening[..Opening.IndexOf("\"rules\"", StringComparison.Ordinal)] + "\"rules\": {}, "
            + Opening[Opening.IndexOf("\"goals\"", StringComparison.Ordinal)..]);
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        var offer = Markup.TextOf((await lead.PressButton(await Raw(lead, NewWeek), "Go on", ("launch", "2027-04-09T09:00"))).Text);
        Assert.Contains("The rules of the last week here hold in this one.", offer);
        Assert.Contains("No rule yet: no rest, no break and no company is planned.", offer);
    }

    [Fact]
    public async Task Where_every_id_is_taken_no_week_is_offered()
    {
        var (chain, lead) = await Prepared();
        var go = PageForm.With(await Raw(lead, NewWeek), "Go on").Fill("rules", "none");
        foreach (var (name, value) in Answers) go.Fill(name, value);
        await using var data = Npgsql.NpgsqlDataSource.Create(RunningService.Postgres);
        await using var take = data.CreateCommand("""
            insert into setweek.mt_streams (tenant_id, id, version)
            select $1, 'week/first-rain.harbour-street' || case number when 1 then '' else '-' || number end, 1
            from generate_series(1, 998) as number
            """);
        take.Parameters.AddWithValue(chain.Tenant);
        await take.ExecuteNonQueryAsync();
        Assert.Contains("value=\"first-rain.harbour-street-999\"", (await go.Send(lead)).Text);
        await using var last = data.CreateCommand("insert into setweek.mt_streams (tenant_id, id, version) values ($1, $2, 1)");
        last.Parameters.AddWithValue(chain.Tenant);
        last.Parameters.AddWithValue("week/first-rain.harbour-street-999");
        await last.ExecuteNonQueryAsync();
        var refused = await go.Send(lead);
        Assert.Equal(409, refused.Status);
        Assert.Contains("First Rain has been opened in Harbour Street 999 times, so no id is left for another week.", refused.Text);
    }

    private async Task<(Chain Chain, Browser Lead)> Prepared()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        return (chain, await chain.SignedIn("lena", Role.Lead, "harbour-street"));
    }

    private static async Task<JsonNode> File(ApiClient lead, string id) =>
        (await ExpectStatus(200, lead.Get($"/weeks/{id}/week-file"))).Json;

    private static async Task<string> Page(Browser reader, string address) => WebUtility.HtmlDecode(await Raw(reader, address));

    private static async Task<string> Raw(Browser reader, string address)
    {
        var answer = await ExpectStatus(200, reader.Api.Get(address, ("Accept", "text/html")));
        return answer.Text;
    }
}
