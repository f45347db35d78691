using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Runs contenders on published instances and prints one line for each instance and one for each set. Fails, and names the
/// instance, if a plan breaks a rule, if a plan is shorter than a proven lower bound, or if a bound exceeds the best known
/// makespan.
/// </summary>
internal static class OpenBench
{
    public static int Run(IEnumerable<OpenInstance> instances, IReadOnlyList<Contender> contenders, SearchLimits limits,
        int? schedules = null)
    {
        var all = instances.ToList();
        if (all.Count == 0)
        {
            Console.Error.WriteLine("There are no instances. Name their folder, or set SETWEEK_DATA.");
            return 2;
        }
        WarmUp(all[0], contenders);
        var faults = 0;
        foreach (var set in all.GroupBy(instance => instance.Set))
        {
            var results = set.SelectMany(instance => contenders.Select(contender => Measure(instance, contender, limits)))
                .ToList();
            foreach (var (contender, own) in results.GroupBy(result => result.Contender)
                .Select(group => (group.Key, group.ToList())))
                JsonLines.Print(Summary(set.Key, contender, own, limits, schedules));
            faults += results.Count(result => result.Fault is not null);
        }
        return faults == 0 ? 0 : 1;
    }

    private static Result Measure(OpenInstance instance, Contender contender, SearchLimits limits)
    {
        var week = instance.Read();
        var (outcome, seconds) = contender.Timed(week, limits);
        var result = new Result(instance, contender.Name, outcome.Schedule?.Work.Max(work => work.To), outcome.Bound,
            outcome.Proven, seconds,
            FaultOf(instance, Problem.Of(week), outcome));
        if (result.Fault is { } fault) Console.Error.WriteLine($"FAIL {instance.Set}/{instance.Name}, {contender.Name}: {fault}");
        JsonLines.Print(new
        {
            set = instance.Set, instance = instance.Name, contender = contender.Name, best = instance.Best,
            closed = instance.Closed,
            makespan = result.Makespan, bound = result.Bound, proven = result.Proven,
            seconds = Math.Round(seconds, 3), fault = result.Fault,
        });
        return result;
    }

    private static string? FaultOf(OpenInstance instance, Problem problem, Outcome outcome)
    {
        if (outcome.Bound > instance.Best)
            return $"claims the bound {outcome.Bound}, above the best known makespan {instance.Best}";
        if (outcome.Schedule is not { } schedule) return null;
        if (Checker.Check(problem, schedule) is [var breach, ..]) return $"breaks {breach.Rule.Text()}: {breach.Sentence}";
        var makespan = schedule.Work.Max(work => work.To);
        if (makespan < instance.LowerBound) return $"has the makespan {makespan}, below the proven bound {instance.LowerBound}";
        return outcome.Proven && makespan != outcome.Bound
            ? $"claims to have proven {makespan}, but its bound is {outcome.Bound}" : null;
    }

    /// <summary>Gaps are relative to the best known makespan, deviations to the critical path.</summary>
    private static object Summary(string set, string contender, List<Result> results, SearchLimits limits, int? schedules)
    {
        var found = results.Where(result => result.Makespan is not null).ToList();
        return new
        {
            set, contender, instances = results.Count, seconds = limits.Time.TotalSeconds, workers = limits.Workers,
            schedules,
            found = found.Count,
            proven = results.Count(result => result.Proven),
            atBest = found.Count(result => result.Makespan <= result.Instance.Best),
            meanGapPercent =
                Mean(found.Select(result => 100.0 * (result.Makespan!.Value - result.Instance.Best) / result.Instance.Best)),
            meanBoundGapPercent =
                Mean(results.Select(result => 100.0 * (result.Instance.Best - result.Bound) / result.Instance.Best)),
            meanDeviationPercent = Mean(found.Select(result =>
                100.0 * (result.Makespan!.Value - result.Instance.CriticalPath) / result.Instance.CriticalPath)),
            meanSeconds = Mean(results.Select(result => result.Seconds)),
            worstSeconds = Math.Round(results.Max(result => result.Seconds), 2),
            faults = results.Count(result => result.Fault is not null),
        };
    }

    private static double? Mean(IEnumerable<double> values) =>
        values.ToList() is { Count: > 0 } known ? Math.Round(known.Average(), 3) : null;

    /// <summary>Loads the solver and lets the runtime compile the code.</summary>
    private static void WarmUp(OpenInstance instance, IReadOnlyList<Contender> contenders)
    {
        foreach (var contender in contenders)
            contender.Solve(instance.Read(), new SearchLimits { Time = TimeSpan.FromSeconds(0.5) });
    }

    private sealed record Result(OpenInstance Instance, string Contender, int? Makespan, long Bound, bool Proven,
        double Seconds, string? Fault);
}
