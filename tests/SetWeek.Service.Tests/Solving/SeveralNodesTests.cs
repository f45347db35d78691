using System.Diagnostics;
using SetWeek.Service.Access;
using SetWeek.Service.Solving;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Solving;

/// <summary>Two nodes that share a database. The demo week of Harbour Street takes long enough to solve.</summary>
public sealed class SeveralNodesTests
{
    [Fact]
    public async Task The_search_of_a_killed_node_is_taken_over_after_its_lease_and_any_node_shows_its_progress()
    {
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var first = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await first.Start();
        await HarbourStreet.Open(first.As("ada", Role.HeadOffice));
        var response = await first.As("lena", Role.Lead)
            .Post($"{HarbourStreet.Address}/plans", """{"seconds": 200, "workers": 1}""");
        Assert.True(response.Status == 202, response.Text);
        await ServiceProcess.Until(async () => (await Read(first))["best"] is not null);
        await using var second = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await second.Start();
        Assert.NotNull((await Read(second))["best"]); // the other node searches

        await first.Kill();
        var killed = Stopwatch.GetTimestamp();
        // The row of a request says which attempt searches for it.
        await ServiceProcess.Until(async () => await database.Query(
            "select count(*) from setweek.solve_requests where attempt = 2 and lease > clock_timestamp()") is 1L);
        var takeOver = Stopwatch.GetElapsedTime(killed);
        Assert.True(takeOver < SolveClaims.Lease * 3, $"It was taken over after {takeOver.TotalSeconds:0.0} s.");

        var newer = await second.As("lena", Role.Lead)
            .Post($"{HarbourStreet.Address}/plans", """{"effort": 1, "workers": 1}""");
        await ServiceProcess.Until(async () =>
            (string?)(await second.As("lena", Role.Lead).Get(newer.Location!)).Json["state"] is "ready");
        Assert.Equal("cancelled", (string?)(await Read(second))["state"]);
        Assert.Equal(0L, await database.Query("select count(*) from setweek.solve_requests"));

        async Task<System.Text.Json.Nodes.JsonNode> Read(ServiceProcess node) =>
            (await node.As("lena", Role.Lead).Get(response.Location!)).Json;
    }

    [Fact]
    public async Task A_search_is_ended_with_its_best_plan_through_the_node_that_does_not_run_it()
    {
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var first = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await first.Start();
        await HarbourStreet.Open(first.As("ada", Role.HeadOffice));
        var response = await first.As("lena", Role.Lead)
            .Post($"{HarbourStreet.Address}/plans", """{"seconds": 200, "workers": 1}""");
        Assert.True(response.Status == 202, response.Text);
        await ServiceProcess.Until(async () => (await first.As("lena", Role.Lead).Get(response.Location!)).Json["best"] is not null);
        await using var second = new ServiceProcess(database, (Settings.NodesVariable, "several"));
        await second.Start();
        var lead = second.As("lena", Role.Lead);

        var stopped = await lead.Post($"{response.Location}/stop", "{}");
        Assert.Equal((202, response.Location), (stopped.Status, stopped.Location));
        // The search has 200 seconds, and this waits for 90 at most.
        await ServiceProcess.Until(async () => (string?)(await lead.Get(response.Location!)).Json["state"] is "ready");

        var plan = (await lead.Get(response.Location!)).Json;
        Assert.True((bool)plan["endedEarly"]!);
        Assert.Equal(10_000, (int)plan["chance"]!["holds"]!["runs"]!);
        Assert.NotEmpty(plan["plan"]!["nights"]!.AsArray());
        Assert.Contains(plan["plan"]!["goals"]!.AsArray(), goal => (long?)goal!["bound"] > 0);
        Assert.Contains(first.Output, line => line.Contains("\"Solved ", StringComparison.Ordinal));
        Assert.Equal("search-ended", (await lead.Post($"{response.Location}/stop", "{}")).Code);
    }
}
