using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>What a re-plan changes, as a page. The forms come late, and a banner that needs them may be left out.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ChangesPageTests(RunningService service)
{
    [Fact]
    public async Task A_lead_reads_the_options_side_by_side_and_accepts_the_second()
    {
        var (chain, week) = await WithLateKit();
        var replan = await week.Plan();
        var options = replan["options"]!.AsArray();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead, ChangesOf(replan));
        Assert.Contains("What would change", page);
        Assert.Contains("<span class=\"koh\">As published</span>", page);
        foreach (var option in options)
        {
            Assert.Contains($"Accept “{option!["name"]}”", page);
            Assert.Contains($"{option["changes"]!["told"]}, ", page);
        }
        // The sentences are those of the JSON, and the wages those of the option.
        var changes = (await ExpectStatus(200, week.Lead.Get(ChangesOf(replan)))).Json;
        Assert.All(changes["told"]!.AsArray().SelectMany(told => told!["sentences"]!.AsArray()),
            sentence => Assert.Contains((string)sentence!, page));
        Assert.Contains("£", page);
        Assert.Contains("100.0 % (95 % interval", page);

        var accepted = await lead.PressButton(await Raw(lead, ChangesOf(replan)), $"Accept “{options[1]!["name"]}”");
        Assert.Equal((303, $"{Address}/told"), (accepted.Status, accepted.Location!));
        Assert.EndsWith((string)(await week.Week())["publishedPlan"]!, (string)options[1]!["address"]!);
        var after = await Page(lead, $"{options[1]!["address"]}/changes");
        Assert.Contains("is the store’s plan", after);
        Assert.DoesNotContain("Accept “", after);
    }

    [Fact]
    public async Task An_overtaken_plan_says_what_has_happened_and_asks_again()
    {
        var (chain, week) = await WithLateKit();
        var replan = await week.Plan();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "monday", "why": "Flu"}"""));
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead, ChangesOf(replan));
        Assert.Contains("The week has changed since", page);
        Assert.Contains("Cleo Strand is absent from the night of Mon 8 Mar.", page);
        Assert.DoesNotContain("Accept “", page);
        Assert.DoesNotContain("Flu", page);
        var asked = await lead.PressButton(page, "Ask for another plan");
        Assert.Equal(303, asked.Status);
        Assert.StartsWith($"{Address}/plans/", asked.Location!);
        await week.Settled(asked.Location!);
    }

    [Fact]
    public async Task The_first_plan_and_one_that_changes_nothing_have_words_of_their_own()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var first = await week.Plan("2027-03-07T12:00");
        using var lead = await chain.SignedIn("lena", Role.Lead);
        Assert.Contains("When it is published, everybody with a shift is told of it.", await Page(lead, ChangesOf(first)));
        Assert.Equal(409, (await week.Lead.Get(ChangesOf(first))).Status); // programs get no comparison
        await ExpectStatus(204, week.Publish(first, await week.ETag()));
        var same = await week.Plan();
        var changes = (await ExpectStatus(200, week.Lead.Get(ChangesOf(same)))).Json;
        var page = await Page(lead, ChangesOf(same));
        Assert.Contains(changes["moved"]!.AsArray().Count == 0 ? "This plan is the published one" : "What would change", page);
    }

    [Fact]
    public async Task A_week_without_a_plan_says_where_the_reason_is()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        foreach (var night in new[] { "monday", "tuesday", "wednesday" })
            await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p1/absent", $$"""{"night": "{{night}}"}"""));
        foreach (var night in new[] { "monday", "tuesday", "wednesday" })
            await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p2/absent", $$"""{"night": "{{night}}"}"""));
        var none = await week.Plan(state: "none");
        using var lead = await chain.SignedIn("lena", Role.Lead);
        Assert.Contains("No plan to compare", await Page(lead, ChangesOf(none)));
    }

    [Fact]
    public async Task Crew_read_what_concerns_themselves_without_pay_and_without_a_button()
    {
        var (chain, week) = await WithLateKit();
        var replan = await week.Plan();
        var told = (await ExpectStatus(200, week.Lead.Get(ChangesOf(replan)))).Json["told"]!.AsArray();
        var person = (string)told[0]!["person"]!;
        using var crew = await chain.SignedIn(person, Role.Crew, "harbour-street");
        var page = await Page(crew, ChangesOf(replan));
        Assert.Contains((string)told[0]!["sentences"]![0]!, page);
        foreach (var other in new[] { ("p1", "Asha Rowan"), ("p2", "Ben Marsh"), ("p3", "Cleo Strand") })
            if (other.Item1 != person) Assert.DoesNotContain(other.Item2, page);
        Assert.DoesNotContain("£", page);
        Markup.AssertNoForm(page);
    }

    private async Task<(Chain, FirstRain)> WithLateKit()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(WithBanner);
        chain.Clock.MoveTo("2027-03-07T12:00");
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/delayed", """{"eta": "2027-03-10T12:00"}"""));
        return (chain, week);
    }

    private static string ChangesOf(JsonNode plan) => $"{Address}/plans/{plan["id"]}/changes";

    private static async Task<string> Page(Browser browser, string address) => WebUtility.HtmlDecode(await Raw(browser, address));

    private static async Task<string> Raw(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
