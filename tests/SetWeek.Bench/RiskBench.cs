using System.Diagnostics;
using SetWeek.Model.Problems;
using SetWeek.Planning;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// How long it takes to put a plan to chance; and that the number of workers makes no difference to what comes out.
/// </summary>
internal static class RiskBench
{
    /// <summary>A medium week: ten thousand runs within a second, on two cores (docs/benchmarks.md).</summary>
    private const double MostMilliseconds = 1000;

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
            var cold = clock.Elapsed.TotalMilliseconds;
            double[] warm = [.. Enumerable.Range(0, 7).Select(_ => Time(() => RiskSimulation.Of(problem, schedule, options))).Order()];
            var alone = Time(() => RiskSimulation.Of(problem, schedule, options with { Workers = 1 }));
            var same = Same(first, RiskSimulation.Of(problem, schedule, options with { Workers = 1 }));
            if (!same || (size == WeekGenerator.Size.Medium && runs <= RiskOptions.DefaultRuns && warm[3] > MostMilliseconds))
                missed++;
            MitigationAdvice? helps = null;
            var helped = Time(() => helps = MitigationSearch.Of(problem, schedule, options, first, time: MitigationSearch.DefaultTime));
            JsonLines.Print(new
            {
                week = week.Id,
                tasks = week.Tasks.Count,
                runs,
                firstMilliseconds = Math.Round(cold, 1),
                medianMilliseconds = Math.Round(warm[3], 1),
                oneWorkerMilliseconds = Math.Round(alone, 1),
                sameWithOneWorker = same,
                launchPercent = Math.Round(100 * first.Launch.Share, 2),
                standardErrorPercent = Math.Round(100 * first.Launch.StandardError, 2),
                nightsInWindowPercent = first.Nights.Select(night => Math.Round(100 * night.InWindow.Share, 1)),
                stintsPutOff = Math.Round(first.StintsPutOff, 1),
                remedies = helps!.Tried,
                remediesNotLookedAt = helps.Untried.Count,
                remediesMilliseconds = Math.Round(helped),
                best = helps.Best.Select(one => one.Sentence),
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

    private static bool Same(RiskReport one, RiskReport other) =>
        one.Launch == other.Launch && one.Finish == other.Finish && one.Nights.SequenceEqual(other.Nights)
        && one.Dues.SequenceEqual(other.Dues) && one.Tasks.SequenceEqual(other.Tasks);
}
