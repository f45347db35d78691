using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
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

        var asked = await lead.PressButton(await Page(lead, $"{Address}/plan"), "Ask for another plan");
        Assert.Equal(303, asked.Status);
        var address = asked.Location!;
        Assert.True((await lead.Api.Get(address, ("Accept", "text/html"))).Status == 200); // also while it is looked for
        await week.Settled(address);

        Assert.Contains($"href=\"{address}\">The plan that was asked for last</a>", await Page(lead, $"{Address}/plan"));
        var published = await lead.PressButton(await Page(lead, address), "Publish this plan");
        Assert.Equal((303, $"{Address}/plan"), (published.Status, published.Location!));
        Assert.EndsWith($"/{(string?)(await week.Week())["publishedPlan"]}", address);
        Assert.DoesNotContain("Publish this plan", await Page(lead, $"{Address}/plan"));
        Assert.DoesNotContain("The plan that was asked for last", await Page(lead, $"{Address}/plan"));
    }

    [Fact]
    public async Task A_lead_ends_a_search_once_it_has_a_plan()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        string address, page;
        await using (await service.HoldSearches())
        {
            address = (await ExpectStatus(202, week.Lead.Post($"{Address}/plans", """{"seconds": 1, "workers": 1}"""))).Location!;
            page = await Page(lead, address);
            var early = await lead.PressButton(page, "Stop, and take the best so far");
            Assert.Equal(409, early.Status);
            var refused = WebUtility.HtmlDecode(early.Text);
            Assert.Contains("No plan is found yet, so there is none to end with. The search goes on.", refused);
            Assert.Contains("The request waits for its turn.", refused);

            await Execute("""
                update setweek.solve_requests set node = 'another', attempt = 1, lease = clock_timestamp() + interval '1 minute',
                    best = '{"afterMilliseconds": 100, "goals": [{"goal": "cost", "value": 4584, "bound": 4400}], "options": []}'
                """, chain);
            var stopped = await lead.PressButton(page, "Stop, and take the best so far");
            Assert.Equal((303, address), (stopped.Status, stopped.Location!));
            await Execute("update setweek.mt_doc_candidateplan set data = jsonb_set(data, '{state}', '\"solving\"')", chain);
            var ending = await Page(lead, address);
            Assert.Contains("The search is stopped. The chance that its best plan holds is being measured.", ending);
            Assert.DoesNotContain("Stop, and take", ending);
            await Execute("update setweek.solve_requests set lease = null, node = null", chain);
        }
        await week.Settled(address);
        var late = await lead.PressButton(page, "Stop, and take the best so far");
        Assert.Contains("The search for this plan has ended.", late.Text);
        using var crew = await chain.SignedIn("p3", Role.Crew);
        Assert.DoesNotContain("Stop, and take", await Page(crew, address));
    }

    private async Task Execute(string sql, Chain chain)
    {
        await using var command = service.Host.Services.GetRequiredService<NpgsqlDataSource>()
            .CreateCommand($"{sql} where tenant_id = '{chain.Tenant}'");
        await command.ExecuteNonQueryAsync();
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
        var late = await lead.PressButton(page, "Publish this plan");
        Assert.Equal(412, late.Status);
        Assert.Contains("Read it again, then decide again.", late.Text);
        Assert.Null((await week.Week())["publishedPlan"]);
    }

    [Fact]
    public async Task Who_may_not_act_sees_no_button()
    {
        var chain = service.NewChain();
        await (await new FirstRain(chain).Open()).PlanAndPublish();
        using var crew = await chain.SignedIn("p3", Role.Crew);
        Markup.AssertNoForm(await Page(crew, $"{Address}/plan"));
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
