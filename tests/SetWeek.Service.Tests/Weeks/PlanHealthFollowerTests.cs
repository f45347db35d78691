using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Tests.KitDelays;
using SetWeek.Service.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Weeks;

/// <summary>A report is committed without a check of the published plan; what it means for the plan follows.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PlanHealthFollowerTests(RunningService service)
{
    [Fact]
    public async Task Reports_that_break_the_plan_are_followed_by_one_event_and_taking_them_back_by_another()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        var answers = await Task.WhenAll(Enumerable.Range(1, 8).Select(n => ExpectStatus(204, Block(week.Lead, Address, n))));
        await week.PlanIsChecked();

        var broken = (await week.Week())["brokenPlan"]!;
        Assert.Equal("wall.paint", (string?)broken["task"]);
        var entry = Assert.Single(await History(week), entry => (string?)entry["type"] == "plan-broken");
        Assert.Equal("lena", (string?)entry["who"]);
        Assert.Contains((string?)broken["report"], Enumerable.Range(1, 8).Select(n => $"b{n}"));
        // The answers tell the versions of the reports alone.
        Assert.DoesNotContain($"\"{(long)entry["version"]!}\"", answers.Select(answer => answer.ETag));

        foreach (var n in Enumerable.Range(1, 8))
            await ExpectStatus(204, week.Lead.Post($"{Address}/reports/b{n}/retracted",
                $$"""{"id": "t{{n}}", "at": "2027-03-08T20:20:00Z"}"""));
        await week.PlanIsChecked();
        Assert.Null((await week.Week())["brokenPlan"]);
        var before = await History(week);
        Assert.Single(before, entry => (string?)entry["type"] == "plan-holds-again");

        // Followed once more from the first event, the same reports change nothing.
        await Execute("update setweek.follower set place = 0 where tenant_id = $1 and name = $2",
            chain.Tenant, PlanHealthFollower.FollowerName);
        await week.PlanIsChecked();
        Assert.Equal(before.Count, (await History(week)).Count);
    }

    /// <summary>The crew of one week is stored in a form that cannot be read, so its plan cannot be checked.</summary>
    [Fact]
    public async Task A_check_that_fails_costs_no_report_and_no_other_week_its_check()
    {
        var chain = service.NewChain();
        var weeks = new LorryWeeks(chain.HeadOffice, chain.LeadOf());
        await weeks.Open("mill-lane", "quay");
        var (failing, other) = ("/weeks/first-rain.mill-lane", "/weeks/first-rain.quay");
        foreach (var store in new[] { "mill-lane", "quay" }) await weeks.Publish(store);
        chain.Clock.MoveTo("2027-03-08T20:30");
        const string swap = "update setweek.mt_doc_crewfile set data = $3::jsonb where tenant_id = $1 and id = $2";
        var crew = await Text("select data::text from setweek.mt_doc_crewfile where tenant_id = $1 and id = $2",
            chain.Tenant, failing["/weeks/".Length..]);
        await Execute(swap, chain.Tenant, failing["/weeks/".Length..], """{"members": 5}""");

        await ExpectStatus(204, Block(chain.LeadOf(), failing, 1));
        await ExpectStatus(204, Block(chain.LeadOf(), other, 1));
        await PlanIsChecked(chain);
        Assert.NotNull((await Week(chain, other))["brokenPlan"]);
        var notChecked = await Week(chain, failing);
        Assert.Null(notChecked["brokenPlan"]);
        Assert.Equal("blocked", (string?)Assert.Single(notChecked["work"]!.AsArray())!["state"]);

        await Execute(swap, chain.Tenant, failing["/weeks/".Length..], crew);
        await ExpectStatus(204, Block(chain.LeadOf(), failing, 2));
        await PlanIsChecked(chain);
        Assert.NotNull((await Week(chain, failing))["brokenPlan"]);
    }

    private static Task<ApiResponse> Block(ApiClient lead, string week, int n) => lead.Post($"{week}/work/blocked",
        $$"""{"id": "b{{n}}", "task": "wall.paint", "at": "2027-03-08T20:1{{n}}:00Z", "reason": "no-access"}""");

    private static async Task<JsonNode> Week(Chain chain, string address) =>
        (await ExpectStatus(200, chain.LeadOf().Get(address))).Json;

    private static async Task<List<JsonNode>> History(FirstRain week) =>
        [.. (await ExpectStatus(200, week.Lead.Get($"{Address}/history"))).Json["events"]!.AsArray().Select(entry => entry!)];

    private async Task Execute(string sql, params string[] values)
    {
        await using var command = Command(sql, values);
        Assert.Equal(1, await command.ExecuteNonQueryAsync());
    }

    private async Task<string> Text(string sql, params string[] values)
    {
        await using var command = Command(sql, values);
        return (string)(await command.ExecuteScalarAsync())!;
    }

    private NpgsqlCommand Command(string sql, string[] values)
    {
        var command = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        foreach (var value in values) command.Parameters.AddWithValue(value);
        return command;
    }
}
