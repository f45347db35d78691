using System.Text;
using System.Text.Json;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Cli.Demo;

/// <summary>A plan as the API returned it.</summary>
internal sealed record DemoPlan(string Id, Plan Plan, JsonElement Answer);

/// <summary>Requests plans of a week, prints the progress of the search, and publishes plans.</summary>
internal sealed class DemoPlanning(DemoOutput tables, DemoApi lead, TimeProvider clock, int seconds)
{
    /// <summary>Seconds allowed beyond the time limit of the search, for the queue and for a busy machine.</summary>
    private const int Patience = 60;

    /// <summary>Factor on the time limit of a second search, after the first found no plan.</summary>
    private const int MoreTime = 4;

    private static readonly TimeSpan PollInterval = TimeSpan.FromMilliseconds(100);

    public async Task<DemoPlan> Ask(Week week, CancellationToken cancelled)
    {
        if (await Try(week, seconds, cancelled) is { } plan) return plan;
        tables.Write($"No plan was found within {seconds} s. Second request, with a limit of {seconds * MoreTime} s:");
        return await Try(week, seconds * MoreTime, cancelled)
            ?? throw new DemoStopped($"No plan was found within {seconds * MoreTime} seconds.");
    }

    public async Task Publish(DemoPlan plan, Week week, CancellationToken cancelled)
    {
        var version = (await lead.Get($"/weeks/{week.Id}", cancelled)).ETag
            ?? throw new DemoStopped("The week's answer has no ETag.");
        await lead.Post($"/weeks/{week.Id}/plans/{plan.Id}/publish", null, cancelled, ifMatch: version);
        tables.Write($"Published, after it was checked once more against the week as it stands (version {version.Trim('"')}).");
    }

    /// <returns>Null if no plan was found in the time given; one may still exist.</returns>
    private async Task<DemoPlan?> Try(Week week, int within, CancellationToken cancelled)
    {
        var asked = await lead.Post($"/weeks/{week.Id}/plans", new { seconds = within, seed = 1 }, cancelled);
        var address = asked.Location
            ?? throw new DemoStopped("The service accepted the request for a plan but sent no Location.");
        var progress = new DemoProgress(tables, week);
        var (started, limit) = (clock.GetTimestamp(), TimeSpan.FromSeconds(within + Patience));
        for (; clock.GetElapsedTime(started) < limit; await Task.Delay(PollInterval, clock, cancelled))
        {
            var answer = (await lead.Get(address, cancelled)).Body;
            progress.Report(answer.Field("best"));
            switch (answer.Text("state"), answer.Field("plan")?.Text("status"))
            {
                case ("queued" or "solving", _): continue;
                case ("ready", _): return PlanAt(address, answer, week);
                case ("none", "unknown"): return null;
                case var (state, _):
                    throw new DemoStopped($"No plan: {state}. {answer.Text("failure")}{string.Join(' ', Conflict(answer))}");
            }
        }
        throw new DemoStopped($"The plan is not ready {within + Patience} seconds after the request.");
    }

    /// <summary>Reads a finished plan.</summary>
    public async Task<DemoPlan> Read(string address, Week week, CancellationToken cancelled) =>
        PlanAt(address, (await lead.Get(address, cancelled)).Body, week);

    private static DemoPlan PlanAt(string address, JsonElement answer, Week week) =>
        new(address[(address.LastIndexOf('/') + 1)..], PlanOf(answer, week), answer);

    private static IEnumerable<string?> Conflict(JsonElement answer) =>
        answer.Field("plan")?.Items("conflict").Select(breach => breach.Text("sentence")) ?? [];

    private static Plan PlanOf(JsonElement answer, Week week) =>
        PlanFile.Read(Encoding.UTF8.GetBytes(answer.As<JsonElement>("plan").GetRawText()), week)
            .Match(plan => plan, faults => throw DemoStopped.Unreadable("plan", faults));
}
