using System.Diagnostics;
using System.Runtime.InteropServices;
using SetWeek.Cli.Tables;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Commands;

/// <summary>
/// Has the planner look for a plan while somebody waits: on a terminal the best so far and what is proven of it are shown,
/// and Ctrl-C ends the search with what it has.
/// </summary>
internal static class SearchDisplay
{
    public static Task<Plan> Plan(Week week, SearchLimits limits, Replan? replan, CancellationToken cancelled) =>
        RunWithDisplay(week, limits, cancelled,
            (report, stop) => Planner.Plan(week, limits, replan, found => report(found.Best), stop));

    public static Task<ReplanOffer> Options(Week week, SearchLimits limits, Replan replan, CancellationToken cancelled) =>
        RunWithDisplay(week, limits, cancelled, (report, stop) =>
            OptionSearch.Find(week, limits, replan, found => report(found.Best), stop));

    private static async Task<T> RunWithDisplay<T>(
        Week week, SearchLimits limits, CancellationToken cancelled, Func<Action<Plan>, CancellationToken, T> solve)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancelled);
        using var interrupt = OnSignal(PosixSignal.SIGINT, stop);
        using var terminate = OnSignal(PosixSignal.SIGTERM, stop);
        Plan? latest = null;
        var solving = Task.Run(() => solve(found => Volatile.Write(ref latest, found), stop.Token), CancellationToken.None);
        if (!Console.IsErrorRedirected) await Show(week, limits, solving, () => Volatile.Read(ref latest));
        return await solving;
    }

    private static async Task Show(Week week, SearchLimits limits, Task solving, Func<Plan?> latest)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(Console.Error) });
        var started = Stopwatch.StartNew();
        await console.Live(Render(week, limits, started, null)).AutoClear(true).StartAsync(async live =>
        {
            while (await Task.WhenAny(solving, Task.Delay(200)) != solving)
                live.UpdateTarget(Render(week, limits, started, latest()));
        });
    }

    private static Table Render(Week week, SearchLimits limits, Stopwatch started, Plan? best)
    {
        var words = new GoalLabels(week);
        var until = limits.Effort is { } effort ? $"effort {effort:0.#}" : $"of {limits.Time.TotalSeconds:0} s";
        var looking = $"Looking, {started.Elapsed.TotalSeconds:0} s {until}; Ctrl-C keeps the best";
        var table = PlanTables.NewTable(looking, "Best so far", "");
        if (best is null) PlanTables.AddRow(table, "No plan yet", "", "");
        if (best is { Status: PlanStatus.Infeasible })
            PlanTables.AddRow(table, "There is no plan", $"{best.Conflict.Count} reasons together",
                $"{best.Repairs.Count} ways out so far");
        foreach (var goal in best?.Goals ?? [])
            PlanTables.AddRow(table, GoalLabels.Name(goal.Goal), words.Value(goal.Goal, goal.Value), words.Gap(goal));
        return table;
    }

    private static PosixSignalRegistration OnSignal(PosixSignal signal, CancellationTokenSource stop) =>
        PosixSignalRegistration.Create(signal, context =>
        {
            // A second one ends the program as usual.
            context.Cancel = !stop.IsCancellationRequested;
            stop.Cancel();
        });
}
