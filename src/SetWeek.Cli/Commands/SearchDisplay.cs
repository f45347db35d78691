using System.Runtime.InteropServices;
using SetWeek.Cli.Tables;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Commands;

/// <summary>
/// Runs the planner for a waiting user. A terminal shows the best plan so far with its optimality gaps. Ctrl-C ends the search
/// and keeps that plan.
/// </summary>
internal static class SearchDisplay
{
    private static readonly TimeSpan RefreshInterval = TimeSpan.FromMilliseconds(200);

    public static Task<Plan> Plan(Week week, SearchLimits limits, Replan? replan, CancellationToken cancelled) =>
        RunWithDisplay(week, limits, cancelled,
            (report, stop) => Planner.Plan(week, limits, replan, found => report(found.Best), stop));

    public static Task<ReplanOffer> Options(Week week, SearchLimits limits, Replan replan, CancellationToken cancelled) =>
        RunWithDisplay(week, limits, cancelled, (report, stop) =>
            OptionSearch.Find(week, limits, replan, found => report(found.Best), stop));

    public static Task<CertaintyOffer> Certainty(Week week, SearchLimits limits, CancellationToken cancelled) =>
        RunWithDisplay(week, limits, cancelled, (_, stop) => CertaintySearch.Find(week, limits, null, stop));

    private static async Task<T> RunWithDisplay<T>(
        Week week, SearchLimits limits, CancellationToken cancelled, Func<Action<Plan>, CancellationToken, T> solve)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancelled);
        using var interrupt = OnSignal(PosixSignal.SIGINT, stop);
        using var terminate = OnSignal(PosixSignal.SIGTERM, stop);
        Plan? latest = null;
        var solving = Task.Run(() => solve(found => Volatile.Write(ref latest, found), stop.Token), CancellationToken.None);
        if (!Console.IsErrorRedirected) await Show(TimeProvider.System, week, limits, solving, () => Volatile.Read(ref latest));
        return await solving;
    }

    private static async Task Show(
        TimeProvider clock, Week week, SearchLimits limits, Task solving, Func<Plan?> latest)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(Console.Error) });
        var started = clock.GetTimestamp();
        await console.Live(Render(week, limits, TimeSpan.Zero, null)).AutoClear(true).StartAsync(async live =>
        {
            while (await Task.WhenAny(solving, Task.Delay(RefreshInterval, clock)) != solving)
                live.UpdateTarget(Render(week, limits, clock.GetElapsedTime(started), latest()));
        });
    }

    private static Table Render(Week week, SearchLimits limits, TimeSpan elapsed, Plan? best)
    {
        var words = new GoalLabels(week);
        var limit = limits.Effort is { } effort ? $"(effort {effort:0.#})" : $"of {limits.Time.TotalSeconds:0} s";
        var heading = $"Searching, {elapsed.TotalSeconds:0} s {limit}; Ctrl-C keeps the best plan";
        var table = PlanTables.NewTable(heading, "Best so far", "Gap");
        if (best is null) PlanTables.AddRow(table, "No plan yet", "", "");
        if (best is { Status: PlanStatus.Infeasible })
            PlanTables.AddRow(table, "No plan exists", $"{best.Conflict.Count} requirements in conflict",
                $"{best.Repairs.Count} repairs so far");
        foreach (var goal in best?.Goals ?? [])
            PlanTables.AddRow(table, GoalLabels.Name(goal.Goal), words.Value(goal.Goal, goal.Value), words.Gap(goal));
        return table;
    }

    private static PosixSignalRegistration OnSignal(PosixSignal signal, CancellationTokenSource stop) =>
        PosixSignalRegistration.Create(signal, context =>
        {
            // A second signal ends the program in the usual way.
            context.Cancel = !stop.IsCancellationRequested;
            stop.Cancel();
        });
}
