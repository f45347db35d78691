using SetWeek.Model.Plans;
using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Open instances through one contender or all of them: a line an instance, then one a set. Fails, and names the instance,
/// where a plan breaks a rule, is shorter than a proven lower bound, or where a bound claimed is above the shortest plan
/// known.
/// </summary>
internal static class OpenBench
{
    public static int Run(IEnumerable<OpenInstance> instances, IReadOnlyList<Contender> contenders, SearchLimits limits,
        int? schedules = null)
    {
        var all = instances.ToList();
        if (all.Count == 0)
        {
            Console.Error.WriteLine("No instances there: name their folder, or set SETWEEK_DATA.");
            return 2;
        }
        Warm(all[0], contenders);
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
        if (outcome.Bound > instance.Best) return $"claims the bound {outcome.Bound}, above the {instance.Best} of a plan known";
        if (outcome.Schedule is not { } schedule) return null;
        if (Checker.Check(problem, schedule) is [var breach, ..]) return $"breaks {breach.Rule.Text()}: {breach.Sentence}";
        var makespan = schedule.Work.Max(work => work.To);
        if (makespan < instance.LowerBound) return $"takes {makespan}, below the {instance.LowerBound} proven least";
        return outcome.Proven && makespan != outcome.Bound ? $"says {makespan} is proven, with the bound {outcome.Bound}" : null;
    }

    /// <summary>Gap: over the shortest plan known. Deviation: over the critical path, of all plans.</summary>
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
        values.ToList() is { Count: > 0 } some ? Math.Round(some.Average(), 3) : null;

    /// <summary>Loads the solver and compiles the paths.</summary>
    private static void Warm(OpenInstance instance, IReadOnlyList<Contender> contenders)
    {
        foreach (var contender in contenders) contender.Solve(instance.Read(), new SearchLimits { Time = TimeSpan.FromSeconds(0.5) });
    }

    private sealed record Result(OpenInstance Instance, string Contender, int? Makespan, long Bound, bool Proven,
        double Seconds, string? Fault);
}
