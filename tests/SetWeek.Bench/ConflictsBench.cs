using SetWeek.Model.Plans;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Infeasible weeks: the time to an irreducible conflict, the time to the first proven repair, and the number of repairs in the
/// given time. The targets are in docs/benchmarks.md.
/// </summary>
internal static class ConflictsBench
{
    public static int Run(TimeSpan time, string only, string onlyKind)
    {
        WarmUp();
        var failed = 0;
        foreach (var (size, seed) in WeekGenerator.Fixed.Where(week => week.Size.Name == only))
            foreach (var (kind, _) in InfeasibleWeeks.Kinds.Where(known => onlyKind is "" || known.Kind == onlyKind))
            {
                var week = InfeasibleWeeks.Make(WeekGenerator.Make(size, seed), kind, seed);
                SearchProgress? firstConflict = null, firstRepair = null;
                var (begun, conflictCpu, repairCpu) = (Cpu(), 0.0, 0.0);
                var clock = System.Diagnostics.Stopwatch.StartNew();
                var plan = Planner.Plan(week, new SearchLimits { Time = time, Workers = 2 }, onProgress: progress =>
                {
                    if (firstConflict is null && progress.Best.Conflict.Count > 0)
                        (firstConflict, conflictCpu) = (progress, Cpu() - begun);
                    if (firstRepair is null && progress.Best.Repairs.Count > 0)
                        (firstRepair, repairCpu) = (progress, Cpu() - begun);
                });
                if (plan.Status != PlanStatus.Infeasible || firstConflict is null) failed++;
                JsonLines.Print(new
                {
                    week = week.Id,
                    status = plan.Status.ToString(),
                    members = plan.Conflict.Select(member => member.Rule),
                    smallest = plan.ConflictSmallest,
                    reasonMilliseconds = Milliseconds(firstConflict),
                    cureMilliseconds = Milliseconds(firstRepair),
                    // CPU time of both workers until then, which is more meaningful on a busy machine.
                    reasonCpuMilliseconds = firstConflict is null ? (double?)null : Math.Round(conflictCpu),
                    cureCpuMilliseconds = firstRepair is null ? (double?)null : Math.Round(repairCpu),
                    repairs = plan.Repairs.Select(repair => string.Join('+', repair.Changes.Select(change => change.Kind))),
                    allMilliseconds = clock.ElapsedMilliseconds,
                });
            }
        Cancel();
        return failed == 0 ? 0 : 1;
    }

    private static void Cancel()
    {
        var week = InfeasibleWeeks.Make(WeekGenerator.Make(WeekGenerator.Size.Large, 8), "two-together", 8);
        foreach (var after in new[] { 200, 1000, 3000 })
        {
            using var stop = new CancellationTokenSource();
            var clock = System.Diagnostics.Stopwatch.StartNew();
            stop.CancelAfter(after);
            Planner.Plan(week, new SearchLimits { Time = TimeSpan.FromSeconds(30) }, stop: stop.Token);
            JsonLines.Print(new { cancelAfterMilliseconds = after, obeyedInMilliseconds = clock.ElapsedMilliseconds - after });
        }
    }

    private static double Cpu()
    {
        using var self = System.Diagnostics.Process.GetCurrentProcess();
        return self.TotalProcessorTime.TotalMilliseconds;
    }

    private static double? Milliseconds(SearchProgress? progress) =>
        progress is null ? null : Math.Round(progress.Elapsed.TotalMilliseconds);

    /// <summary>Loads the solver and lets the runtime compile the code, as in a service that has already run.</summary>
    private static void WarmUp()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 4);
        foreach (var kind in (string[])["kit-too-late", "room-too-small"])
            Planner.Plan(InfeasibleWeeks.Make(week, kind, 1), new SearchLimits { Time = TimeSpan.FromSeconds(2) });
    }
}
