using System.Diagnostics;
using System.Text;
using System.Text.Json;
using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Cli.Demo;

/// <summary>A plan as the API gives it.</summary>
internal sealed record DemoPlan(string Id, Plan Plan, JsonElement Answer);

/// <summary>Asks for plans of one week, watches the planner while it looks, and publishes.</summary>
internal sealed class DemoPlanning(DemoOutput tables, DemoApi lead, int seconds)
{
    // What has to happen besides the search: a busy machine takes its time for that too.
    private const int Patience = 60, MoreTime = 4;

    /// <param name="now">Store-local; null for the clock's.</param>
    public async Task<DemoPlan> Ask(Week week, LocalDateTime? now, CancellationToken cancelled)
    {
        if (await Try(week, now, seconds, cancelled) is { } plan) return plan;
        tables.Write($"No plan within {seconds} s on this machine as busy as it is; asked again, for {seconds * MoreTime} s:");
        return await Try(week, now, seconds * MoreTime, cancelled)
            ?? throw new DemoStopped($"No plan was found within {seconds * MoreTime} seconds.");
    }

    public async Task Publish(DemoPlan plan, Week week, CancellationToken cancelled)
    {
        var version = (await lead.Get($"/weeks/{week.Id}", cancelled)).ETag
            ?? throw new DemoStopped("The week's answer has no ETag.");
        await lead.Post($"/weeks/{week.Id}/plans/{plan.Id}/publish", null, cancelled, ifMatch: version);
        tables.Write($"Published against version {version.Trim('"')} of the week: "
            + "checked once more against the facts of that moment.");
    }

    /// <summary>Null where none was found in the time given, which is no proof that there is none.</summary>
    private async Task<DemoPlan?> Try(Week week, LocalDateTime? now, int within, CancellationToken cancelled)
    {
        var asked = await lead.Post($"/weeks/{week.Id}/plans", new { seconds = within, seed = 1, now }, cancelled);
        var address = asked.Location
            ?? throw new DemoStopped("The service took the request for a plan but did not say where the plan will be.");
        var progress = new DemoProgress(tables, week);
        var (waiting, end) = (Stopwatch.StartNew(), TimeSpan.FromSeconds(within + Patience));
        for (; waiting.Elapsed < end; await Task.Delay(100, cancelled))
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
        throw new DemoStopped($"The plan is not ready {within + Patience} seconds after it was asked for.");
    }

    /// <summary>A plan that is ready.</summary>
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
