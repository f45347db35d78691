using SetWeek.Model.Plans;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Weeks that have no plan: how soon that is told with a smallest set of reasons, how soon the first proven cure, how many there
/// are in the time given. Targets are those of docs/benchmarks.md.
/// </summary>
internal static class ConflictsBench
{
    public static int Run(TimeSpan time, string only, string onlyWay)
    {
        Warm();
        var wrong = 0;
        foreach (var (size, seed) in WeekGenerator.Fixed.Where(week => week.Size.Name == only))
            foreach (var (way, _) in InfeasibleWeeks.Kinds.Where(one => onlyWay is "" || one.Way == onlyWay))
            {
                var week = InfeasibleWeeks.Make(WeekGenerator.Make(size, seed), way, seed);
                SearchProgress? reason = null, cure = null;
                var (begun, reasonCpu, cureCpu) = (Cpu(), 0.0, 0.0);
                var clock = System.Diagnostics.Stopwatch.StartNew();
                var plan = Planner.Plan(week, new SearchLimits { Time = time, Workers = 2 }, onProgress: seen =>
                {
                    if (reason is null && seen.Best.Conflict.Count > 0) (reason, reasonCpu) = (seen, Cpu() - begun);
                    if (cure is null && seen.Best.Repairs.Count > 0) (cure, cureCpu) = (seen, Cpu() - begun);
                });
                if (plan.Status != PlanStatus.Infeasible || reason is null) wrong++;
                JsonLines.Print(new
                {
                    week = week.Id,
                    status = plan.Status.ToString(),
                    members = plan.Conflict.Select(member => member.Rule),
                    smallest = plan.ConflictSmallest,
                    reasonMilliseconds = Milliseconds(reason),
                    cureMilliseconds = Milliseconds(cure),
                    // On a machine with other work to do these say more: what both workers together have computed by then.
                    reasonCpuMilliseconds = reason is null ? (double?)null : Math.Round(reasonCpu),
                    cureCpuMilliseconds = cure is null ? (double?)null : Math.Round(cureCpu),
                    repairs = plan.Repairs.Select(repair => string.Join('+', repair.Changes.Select(change => change.Kind))),
                    allMilliseconds = clock.ElapsedMilliseconds,
                });
            }
        Cancel();
        return wrong == 0 ? 0 : 1;
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

    private static double? Milliseconds(SearchProgress? seen) => seen is null ? null : Math.Round(seen.Elapsed.TotalMilliseconds);

    /// <summary>Loads the solver and compiles the paths, which a service has behind it when a request comes.</summary>
    private static void Warm()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 4);
        foreach (var way in (string[])["kit-too-late", "room-too-small"])
            Planner.Plan(InfeasibleWeeks.Make(week, way, 1), new SearchLimits { Time = TimeSpan.FromSeconds(2) });
    }
}
