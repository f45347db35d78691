using System.Net;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages.Charts;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Weeks;

/// <summary>The page of a plan in each state, for a lead in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PlanStateTests(RunningService service)
{
    /// <summary>Nobody knows when the forms come, and they belong to a must.</summary>
    private static readonly string WithoutForms = Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null");

    [Fact]
    public async Task A_week_without_a_plan_says_what_it_has_and_asks_for_one()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead, $"{Address}/plan");
        Assert.Contains("No plan of this week is published yet. It has 3 tasks,", page);
        var asked = await lead.PressButton(await Raw(lead, $"{Address}/plan"), "Ask for a plan");
        Assert.Equal(303, asked.Status);
        await week.Settled(asked.Location!);
        Assert.Contains($"href=\"{asked.Location!}\"", await Page(lead, $"{Address}/plan"));
        using var crew = await chain.SignedIn("p3", Role.Crew);
        Markup.AssertNoForm(await Page(crew, $"{Address}/plan"));
        Assert.Equal("nothing-published", (await week.Lead.Get($"{Address}/plan")).Code); // for programs
    }

    [Fact]
    public async Task Without_a_plan_each_repair_is_accepted_by_its_button()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: WithoutForms);
        var none = await week.Plan(state: "none");
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead, $"{Address}/plans/{none["id"]}");
        Assert.Contains("There is no plan", page);
        foreach (var member in none["plan"]!["conflict"]!.AsArray()) Assert.Contains((string)member!["sentence"]!, page);
        var repairs = none["plan"]!["repairs"]!.AsArray();
        Assert.NotEmpty(repairs);
        foreach (var repair in repairs) Assert.Contains((string)repair!["sentence"]!, page);
        var number = repairs.Select(repair => (string?)repair!["kind"]).ToList().IndexOf("kit") + 1;
        var accepted = await lead.PressButton(await Raw(lead, $"{Address}/plans/{none["id"]}"), $"Accept change {number}, and plan");
        Assert.Equal(303, accepted.Status);
        Assert.Equal("ready", (string?)(await week.Settled(accepted.Location!))["state"]);
        // The week is another now, so that the repairs are no longer offered.
        Assert.DoesNotContain("and plan</button>", await Page(lead, $"{Address}/plans/{none["id"]}"));
    }

    [Fact]
    public async Task A_plan_that_is_overtaken_says_what_has_happened_since()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        var page = await Page(await chain.SignedIn("lena", Role.Lead), $"{Address}/plans/{plan["id"]}");
        Assert.Contains("Overtaken.", page);
        Assert.Contains("Cleo Strand is absent from the night of Wed 10 Mar.", page);
        Assert.DoesNotContain("Publish this plan", page);
        Assert.Contains("Ask for another plan", page);
    }

    /// <summary>Somebody was faster: the page of the plan comes back as it now is, and says why nothing was published.</summary>
    [Fact]
    public async Task A_plan_that_was_overtaken_while_it_was_read_is_shown_as_it_now_is()
    {
        var (week, lead, page) = await OfAPlan();
        using var ofLead = lead;
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        var late = await lead.PressButton(page, "Publish this plan");
        var again = WebUtility.HtmlDecode(late.Text);
        Assert.Equal(412, late.Status);
        Assert.Contains("Nothing was done.", again);
        Assert.Contains("Overtaken.", again);
        Assert.Contains("Cleo Strand is absent from the night of Wed 10 Mar.", again);
        Assert.DoesNotContain("Publish this plan", again);
        Assert.Null((await week.Week())["publishedPlan"]);
    }

    [Fact]
    public async Task A_request_with_a_fault_comes_back_with_what_was_typed()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var refused = await lead.PressButton(await Raw(lead, $"{Address}/plan"), "Ask for a plan", ("seconds:number", "4000"));
        var again = refused.Text;
        Assert.Equal(400, refused.Status);
        Assert.Contains("value=\"4000\" aria-invalid=\"true\"", again);
        Assert.Contains("No plan of this week is published yet.", again);
    }

    /// <summary>The page of a plan has two forms. What is wrong with one stands in it, and nowhere else.</summary>
    [Fact]
    public async Task On_the_page_of_a_plan_a_refused_request_is_said_once()
    {
        var (_, lead, page) = await OfAPlan();
        using var ofLead = lead;
        var refused = await lead.PressButton(page, "Ask for another plan", ("seconds:number", "4000"));
        Assert.Equal(400, refused.Status);
        var alert = Assert.Single(Markup.Of(refused.Text).Descendants(), element => (string?)element.Attribute("role") == "alert");
        Assert.Contains(alert.Ancestors(), element => element.Name == "form");
        Assert.StartsWith("Nothing has been kept yet.", alert.Value.Trim());
        Assert.Contains("What you typed is still here.", alert.Value);
    }

    [Fact]
    public async Task The_published_plan_says_its_issue_who_published_it_and_what_changed()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        // Somebody who works on Monday cannot come, so that the second plan is another.
        var worker = (string)(await week.Lead.Get($"{Address}/nights/monday/sheet")).Json["pieces"]![0]!["people"]![0]!["person"]!;
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/{worker}/absent", """{"night": "monday"}"""));
        week.Clock.MoveTo("2027-03-08T08:00");
        var second = await week.Plan();
        await ExpectStatus(204, chain.As("p2", Role.Lead, "harbour-street").Post($"{Address}/plans/{second["id"]}/publish", "{}",
            ("If-Match", await week.ETag())));
        var page = await Page(await chain.SignedIn("lena", Role.Lead), $"{Address}/plan");
        Assert.Contains("Issue 2, published on Monday 8 March, 08:00 by Ben Marsh, in place of issue 1", page);
        Assert.Contains("Changed in this issue.", page);
        Assert.Contains("It starts no later than ", page);
        Assert.Contains("No. 101, ", page);
        foreach (var link in new[] { "/told", "/facts", "/plan.xlsx", "/hours", "/plan/wall-chart", "/nights/monday/sheet" })
            Assert.Contains($"href=\"{Address}{link}\"", page);
    }

    [Theory]
    [InlineData(CandidateState.Cancelled, "This request was cancelled")]
    [InlineData(CandidateState.Failed, "The search has failed")]
    public async Task A_request_that_was_given_up_says_so_and_offers_to_ask_again(CandidateState state, string heading)
    {
        var candidate = new CandidatePlan
        {
            Id = "p", Week = "w", State = state, WeekVersion = 1, InputHash = "", Now = ChartWeek.Spring.Launch, Asked = default,
            Limits = new PlanLimits(10, null, 2, 0), Failure = state == CandidateState.Failed ? "The planner failed." : null,
        };
        var page = await NoPlan(candidate);
        Assert.Contains($"<h1>{heading}</h1>", page);
        Assert.Contains("Ask for another plan", page);
        if (candidate.Failure is { } failure) Assert.Contains(failure, page);
    }

    /// <summary>More time is offered where no plan was found, and not more than a request may have.</summary>
    [Theory]
    [InlineData(10, 30), InlineData(200, 300)]
    public async Task Where_no_plan_was_found_in_time_more_time_is_offered(int seconds, int offered) => Assert.Contains(
        $"value=\"{offered}\"", await NoPlan(new CandidatePlan
        {
            Id = "p", Week = "w", State = CandidateState.None, WeekVersion = 1, InputHash = "", Now = ChartWeek.Spring.Launch,
            Asked = default, Limits = new PlanLimits(seconds, null, 2, 0), Plan = new Plan { Week = "w", Status = PlanStatus.Unknown },
        }));

    private static async Task<string> NoPlan(CandidatePlan candidate) => WebUtility.HtmlDecode(
        await PageRenderer.Render<NoPlanPage, NoPlanPage.Outcome>(new("First Rain", ChartWeek.Spring, candidate, ShowsPay: false)
        {
            Acts = new PlanActs("/weeks/w/plans", null, "/weeks/w/plan", "token", "\"1\"", "key") { WhatIf = "/weeks/w/what-if" },
        }));

    /// <summary>The page of a plan that was found and is not published yet, for a lead.</summary>
    private async Task<(FirstRain Week, Browser Lead, string Page)> OfAPlan()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        return (week, lead, await Raw(lead, $"{Address}/plans/{plan["id"]}"));
    }

    private static async Task<string> Page(Browser browser, string address) => WebUtility.HtmlDecode(await Raw(browser, address));

    private static async Task<string> Raw(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.True((200, "text/html") == (answer.Status, answer.ContentType), answer.Text);
        return answer.Text;
    }
}
