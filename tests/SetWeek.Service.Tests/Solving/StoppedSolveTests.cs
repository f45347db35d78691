using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Solving;

/// <summary>
/// A running solve when the service stops or is killed. The demo week of Harbour Street takes long enough to solve.
/// </summary>
public sealed class StoppedSolveTests
{
    [Fact]
    public async Task A_killed_solve_is_restarted_and_settles()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        var plan = await RequestPlan(lead, seconds: 5);
        await ServiceProcess.Until(async () => await State(lead, plan) == "solving");

        await service.Kill();
        await service.Start();

        await ServiceProcess.Until(async () => await State(lead, plan) is "ready");
    }

    [Fact]
    public async Task The_log_lines_of_a_solve_have_one_trace_id_and_say_that_of_the_request()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        await RequestPlan(lead, seconds: 1);
        await ServiceProcess.Until(() => Task.FromResult(service.Output.Any(line => line.Contains("\"Solved "))));
        var lines = service.Output.Where(line => line.StartsWith('{')).Select(line => JsonNode.Parse(line)!).ToList();
        var begun = Assert.Single(lines, line => ((string)line["Message"]!).StartsWith("Solving ", StringComparison.Ordinal));
        var ended = Assert.Single(lines, line => ((string)line["Message"]!).StartsWith("Solved ", StringComparison.Ordinal));
        Assert.NotNull(TraceOf(begun));
        Assert.Equal(TraceOf(begun), TraceOf(ended));
        var asked = (string?)begun["State"]!["Asked"];
        Assert.NotEqual(asked, TraceOf(begun));
        Assert.Contains(lines, line => TraceOf(line) == asked && ((string)line["Message"]!).Contains("POST"));
    }

    private static string? TraceOf(JsonNode line) => line["Scopes"]?.AsArray()
        .Select(scope => (scope as JsonObject)?["TraceId"]).OfType<JsonNode>().Select(trace => (string?)trace).FirstOrDefault();

    /// <summary>Simulates a solver that ends the process each time it solves this week.</summary>
    [Fact]
    public async Task A_solve_that_ends_the_process_three_times_fails_and_others_continue()
    {
        await using var database = new ServiceDatabase(RunningService.Postgres);
        await using var service = new ServiceProcess(database);
        await service.Start();
        var lead = await Open(service);
        var plan = await RequestPlan(lead, seconds: 100);
        for (var attempt = 1; attempt <= 3; attempt++)
        {
            await ServiceProcess.Until(async () => await database.Query(
                "select attempt from setweek.solve_requests where best is not null and lease > clock_timestamp()") is int current
                && current == attempt); // the current process solves it
            await service.Kill();
            await service.Start();
        }

        await ServiceProcess.Until(async () => await State(lead, plan) == "failed");
        Assert.StartsWith("The search was started 3 times", (string?)(await lead.Get(plan)).Json["failure"]);
        var another = await RequestPlan(lead, seconds: 2);
        await ServiceProcess.Until(async () => await State(lead, another) is "ready" or "none");
    }

    [Fact]
    public async Task A_stopped_service_ends_within_seconds_and_resumes_the_solve_after_a_restart()
    {
        await using var service = new ServiceProcess();
        await service.Start();
        var lead = await Open(service);
        var plan = await RequestPlan(lead, seconds: 100);
        await ServiceProcess.Until(async () => await State(lead, plan) == "solving");
        await Task.Delay(TimeSpan.FromSeconds(1)); // until the search runs

        var (duration, code) = await service.Stop();
        Assert.True(duration < TimeSpan.FromSeconds(14), $"The stop took {duration.TotalSeconds:0.0} s."); // the host waits for 15
        Assert.Equal(0, code);

        await service.Start();
        await ServiceProcess.Until(async () => (await lead.Get(plan)).Json["best"] is not null);
        var newer = await RequestPlan(lead, seconds: 2);
        await ServiceProcess.Until(async () => await State(lead, newer) == "ready");
        Assert.Equal("cancelled", await State(lead, plan));
    }

    private static async Task<ApiClient> Open(ServiceProcess service)
    {
        await HarbourStreet.Open(service.As("ada", Role.HeadOffice));
        return service.As("lena", Role.Lead);
    }

    private static async Task<string> RequestPlan(ApiClient lead, int seconds)
    {
        var response = await lead
            .Post($"{HarbourStreet.Address}/plans", $$"""{"seconds": {{seconds}}, "workers": 1}""");
        Assert.True(response.Status == 202, response.Text);
        return response.Location!;
    }

    private static async Task<string?> State(ApiClient lead, string plan) => (string?)(await lead.Get(plan)).Json["state"];
}
