using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>How much each task's length has to do with when all ends, and with whether the launch is met.</summary>
internal static class SensitivityIndices
{
    public static IReadOnlyList<TaskRisk> Of(SimulationNetwork network, SimulationRuns runs, RiskOptions options, int launch, CancellationToken stop)
    {
        var finish = Ranks(runs.Finish);
        var missed = Array.ConvertAll(runs.Finish, end => end > launch ? 1.0 : 0.0);
        var deviation = StandardDeviation([.. runs.Finish.Where(end => end < Lanes.Never / 2).Select(end => (double)end)]);
        var durations = new DurationModel(network.Problem, options);
        var tasks = new TaskRisk?[network.Problem.Tasks.Count];
        WorkerThreads.ForEach(tasks.Length, options.Workers, stop, mine =>
        {
            foreach (var task in mine) tasks[task] = RiskOf(task);
        });
        return [.. tasks.OfType<TaskRisk>().OrderByDescending(task => task.LaunchCruciality > 0.05 ? task.LaunchCruciality : 0)
            .ThenByDescending(task => task.Criticality * Math.Max(0, task.Cruciality))
            .ThenByDescending(task => task.NightCriticality).ThenBy(task => task.Task, StringComparer.Ordinal)];

        TaskRisk? RiskOf(int task)
        {
            var activity = network.Problem.Tasks[task];
            if (network.LastActivityOf(activity) is null) return null;
            var estimate = durations.EstimateOf(activity);
            var critical = (double)runs.Criticality.Critical[task] / runs.Count;
            var (withFinish, withLaunch) = (0.0, 0.0);
            // Work that is done has nothing left to chance.
            var open = network.Activities.Any(piece => piece.Task == task && piece.Duration.RandomPart is not null);
            if (open)
            {
                // The share of chance drawn is the rank of the length (over n), without sorting: lengths grow with it.
                var random = new CommonRandomNumbers(options.Seed, activity.Id);
                var ranks = new double[runs.Count];
                for (var run = 0; run < ranks.Length; run++) ranks[run] = random.Uniform(run);
                (withFinish, withLaunch) = (Correlation(ranks, finish), Correlation(ranks, missed));
            }
            var own = open ? Math.Sqrt(options.Distribution.Variance(estimate)) : 0;
            var nightCritical = (double)runs.Criticality.NightCritical[task] / runs.Count;
            return new TaskRisk(activity.Id, critical, nightCritical, withFinish, withLaunch,
                deviation > 0 ? critical * own / deviation : 0, (double)runs.Criticality.PutOff[task] / runs.Count);
        }
    }

    /// <summary>From 1, equal values sharing the middle of theirs.</summary>
    private static double[] Ranks(float[] values)
    {
        var (sorted, ranks) = ((float[])values.Clone(), new double[values.Length]);
        var runs = Enumerable.Range(0, values.Length).ToArray();
        Array.Sort(sorted, runs);
        for (var first = 0; first < sorted.Length;)
        {
            var next = first + 1;
            while (next < sorted.Length && sorted[next] == sorted[first]) next++;
            for (var at = first; at < next; at++) ranks[runs[at]] = (first + 1 + next) / 2.0;
            first = next;
        }
        return ranks;
    }

    private static double Correlation(double[] one, double[] other)
    {
        var (meanOne, meanOther) = (one.Average(), other.Average());
        var (both, squareOne, squareOther) = (0.0, 0.0, 0.0);
        for (var run = 0; run < one.Length; run++)
        {
            var (a, b) = (one[run] - meanOne, other[run] - meanOther);
            both += a * b;
            squareOne += a * a;
            squareOther += b * b;
        }
        return squareOne == 0 || squareOther == 0 ? 0 : both / Math.Sqrt(squareOne * squareOther);
    }

    private static double StandardDeviation(double[] values)
    {
        if (values.Length < 2) return 0;
        var mean = values.Average();
        return Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1));
    }
}
