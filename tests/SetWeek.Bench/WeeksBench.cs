using System.Diagnostics;
using SetWeek.Scheduling;

namespace SetWeek.Bench;

/// <summary>
/// The fixed weeks: how soon a first checked plan stands, how good it is after the seconds given, how far from what is proven,
/// how much memory it took, and how soon a cancel is obeyed. Targets are those of docs/benchmarks.md.
/// </summary>
internal static class WeeksBench
{
    public static int Run(TimeSpan time, string only)
    {
        Warm();
        var missed = 0;
        foreach (var (size, seed) in WeekGenerator.Fixed.Where(week => only is "" || week.Size.Name == only))
        {
            var week = WeekGenerator.Make(size, seed);
            Sighting? first = null;
            var plan = Planner.Plan(week, new Limits { Time = time, Workers = 2 }, watch: seen => first ??= seen);
            var broken = plan.Nights.Count == 0 ? -1 : Checker.Check(Problem.Of(week), PlanTimes.ScheduleOf(Problem.Of(week), plan)).Count;
            var cost = plan.Goals.FirstOrDefault(goal => goal.Goal == "cost");
            var gap = cost?.Bound > 0 ? 100.0 * (cost.Value - cost.Bound.Value) / cost.Bound.Value : double.NaN;
            if (broken != 0) missed++;
            Figures.Print(new
            {
                week = week.Id,
                loadPercent = Math.Round(100 * WeekGenerator.LoadOf(week)),
                status = plan.Status.ToString(),
                broken,
                firstPlanMilliseconds = first is null ? (double?)null : Math.Round(first.After.TotalMilliseconds, 1),
                seconds = time.TotalSeconds,
                cost = cost?.Value,
                costBound = cost?.Bound,
                gapPercent = double.IsNaN(gap) ? (double?)null : Math.Round(gap, 1),
                goals = plan.Goals,
                peakMegabytes = Process.GetCurrentProcess().PeakWorkingSet64 / 1_000_000,
            });
        }
        Cancel();
        return missed == 0 ? 0 : 1;
    }

    /// <summary>Loads the solver and compiles the paths, which a service has behind it when a request comes.</summary>
    private static void Warm() => Planner.Plan(WeekGenerator.Make(WeekGenerator.Size.Small, 1), new Limits { Time = TimeSpan.FromSeconds(1) });

    private static void Cancel()
    {
        foreach (var after in new[] { 50, 500, 2000, 4000 })
        {
            using var stop = new CancellationTokenSource();
            var clock = Stopwatch.StartNew();
            stop.CancelAfter(after);
            Planner.Plan(WeekGenerator.Make(WeekGenerator.Size.Large, 2), new Limits { Time = TimeSpan.FromSeconds(30) }, stop: stop.Token);
            Figures.Print(new { cancelAfterMilliseconds = after, obeyedInMilliseconds = clock.ElapsedMilliseconds - after });
        }
    }
}
