using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>A lead works with the pages alone, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class LeadPagesTests(RunningService service)
{
    [Fact]
    public async Task A_lead_asks_for_a_plan_reads_it_and_publishes_it()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null; // a form carries its own

        using var asked = await lead.PressButton(await Page(lead, $"{Address}/plan"), "Ask for another plan");
        Assert.Equal(HttpStatusCode.SeeOther, asked.StatusCode);
        var address = asked.Headers.Location!.ToString();
        Assert.True((await lead.Api.Get(address, ("Accept", "text/html"))).Status == 200); // also while it is looked for
        await week.Settled(address);

        Assert.Contains($"href=\"{address}\">The plan that was asked for last</a>", await Page(lead, $"{Address}/plan"));
        using var published = await lead.PressButton(await Page(lead, address), "Publish this plan");
        Assert.Equal((HttpStatusCode.SeeOther, $"{Address}/plan"), (published.StatusCode, published.Headers.Location!.ToString()));
        Assert.EndsWith($"/{(string?)(await week.Week())["publishedPlan"]}", address);
        Assert.DoesNotContain("Publish this plan", await Page(lead, $"{Address}/plan"));
        Assert.DoesNotContain("The plan that was asked for last", await Page(lead, $"{Address}/plan"));
    }

    [Fact]
    public async Task A_form_of_an_older_version_is_refused_and_says_what_to_do()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var plan = await week.Plan();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead, $"{Address}/plans/{plan["id"]}");
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        using var late = await lead.PressButton(page, "Publish this plan");
        Assert.Equal(412, (int)late.StatusCode);
        Assert.Contains("Read it again, then decide again.", await late.Content.ReadAsStringAsync());
        Assert.Null((await week.Week())["publishedPlan"]);
    }

    [Fact]
    public async Task Who_may_not_act_sees_no_button()
    {
        var chain = service.NewChain();
        await (await new FirstRain(chain).Open()).PlanAndPublish();
        using var crew = await chain.SignedIn("p3", Role.Crew);
        Assert.DoesNotContain("<form", await Page(crew, $"{Address}/plan"));
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
