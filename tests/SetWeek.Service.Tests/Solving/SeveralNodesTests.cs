using System.Diagnostics;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Solving;

/// <summary>Two nodes that share a database. The demo week of Harbour Street takes long enough to solve.</summary>
public sealed class SeveralNodesTests
{
    [Fact]
    public async Task A_killed_nodes_search_is_taken_over_within_six_seconds_and_any_node_shows_its_progress()
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
        Assert.True(takeOver < TimeSpan.FromSeconds(6), $"It was taken over after {takeOver.TotalSeconds:0.0} s.");

        var newer = await second.As("lena", Role.Lead)
            .Post($"{HarbourStreet.Address}/plans", """{"effort": 1, "workers": 1}""");
        await ServiceProcess.Until(async () =>
            (string?)(await second.As("lena", Role.Lead).Get(newer.Location!)).Json["state"] is "ready");
        Assert.Equal("cancelled", (string?)(await Read(second))["state"]);
        Assert.Equal(0L, await database.Query("select count(*) from setweek.solve_requests"));

        async Task<System.Text.Json.Nodes.JsonNode> Read(ServiceProcess node) =>
            (await node.As("lena", Role.Lead).Get(response.Location!)).Json;
    }
}
