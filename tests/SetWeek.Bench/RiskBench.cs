using System.Diagnostics;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Times the risk simulation, and checks that the number of workers does not change its result.
/// </summary>
internal static class RiskBench
{
    /// <summary>The target for 10,000 runs of a medium week on two cores (docs/benchmarks.md).</summary>
    private const double MaxMilliseconds = 1000;

    public static int Run(int runs)
    {
        var missed = 0;
        foreach (var (size, seed) in WeekGenerator.Fixed)
        {
            var week = WeekGenerator.Make(size, seed);
            var plan = Planner.Plan(week, new SearchLimits { Effort = 1, Workers = 1 });
            if (plan.Nights.Count == 0) continue;
            var problem = Problem.Of(week);
            var schedule = PlanConverter.ScheduleOf(problem, plan);
            var options = new RiskOptions { Runs = runs };
            var clock = Stopwatch.StartNew();
            var first = RiskSimulation.Of(problem, schedule, options);
            var firstMilliseconds = clock.Elapsed.TotalMilliseconds;
            double[] warmMilliseconds = [.. Enumerable.Range(0, 7)
                .Select(_ => Time(() => RiskSimulation.Of(problem, schedule, options))).Order()];
            var oneWorkerMilliseconds = Time(() => RiskSimulation.Of(problem, schedule, options with { Workers = 1 }));
            var same = AreEqual(first, RiskSimulation.Of(problem, schedule, options with { Workers = 1 }));
            if (!same || (size == WeekGenerator.Size.Medium && runs <= RiskOptions.DefaultRuns
                && warmMilliseconds[3] > MaxMilliseconds))
                missed++;
            MitigationAdvice? advice = null;
            var adviceMilliseconds = Time(() => advice = MitigationSearch.Of(problem, schedule, options, first,
                MitigationSearch.DefaultLimits));
            JsonLines.Print(new
            {
                week = week.Id,
                tasks = week.Tasks.Count,
                runs,
                firstMilliseconds = Math.Round(firstMilliseconds, 1),
                medianMilliseconds = Math.Round(warmMilliseconds[3], 1),
                oneWorkerMilliseconds = Math.Round(oneWorkerMilliseconds, 1),
                sameWithOneWorker = same,
                launchPercent = Math.Round(100 * first.Launch.Share, 2),
                standardErrorPercent = Math.Round(100 * first.Launch.StandardError, 2),
                nightsInWindowPercent = first.Nights.Select(night => Math.Round(100 * night.InWindow.Share, 1)),
                stintsPutOff = Math.Round(first.StintsPutOff, 1),
                remedies = advice!.Tried,
                remediesNotLookedAt = advice.Untried.Count,
                remediesMilliseconds = Math.Round(adviceMilliseconds),
                best = advice.Best.Select(remedy => remedy.Sentence),
            });
        }
        return missed == 0 ? 0 : 1;
    }

    private static double Time(Action work)
    {
        var clock = Stopwatch.StartNew();
        work();
        return clock.Elapsed.TotalMilliseconds;
    }

    private static bool AreEqual(RiskReport first, RiskReport second) =>
        first.Launch == second.Launch && first.Finish == second.Finish && first.Nights.SequenceEqual(second.Nights)
        && first.Dues.SequenceEqual(second.Dues) && first.Tasks.SequenceEqual(second.Tasks);
}
