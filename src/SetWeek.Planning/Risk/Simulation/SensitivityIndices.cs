using SetWeek.Model.Durations;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>Computes how strongly each task's duration affects the finish and the launch (docs/decisions/risk.md).</summary>
internal static class SensitivityIndices
{
    public static IReadOnlyList<TaskRisk> Of(
        SimulationNetwork network, SimulationRuns runs, RiskOptions options, int launch, CancellationToken stop)
    {
        var finishRanks = Ranks(runs.Finish);
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
            var indexedTask = network.Problem.Tasks[task];
            if (network.LastActivityOf(indexedTask) is null) return null;
            var estimate = durations.EstimateOf(indexedTask);
            var critical = (double)runs.Criticality.Critical[task] / runs.Count;
            var (withFinish, withLaunch) = (0.0, 0.0);
            // Work that is done is certain.
            var uncertain = network.Activities.Any(activity => activity.Task == task && activity.Duration.RandomPart is not null);
            if (uncertain)
            {
                // Durations increase with the drawn number, so that number is the rank of the duration divided by n.
                var random = new CommonRandomNumbers(options.Seed, indexedTask.Id);
                var ranks = new double[runs.Count];
                for (var run = 0; run < ranks.Length; run++) ranks[run] = random.Uniform(run);
                (withFinish, withLaunch) = (Correlation(ranks, finishRanks), Correlation(ranks, missed));
            }
            var ownDeviation = uncertain ? Math.Sqrt(options.Distribution.Variance(estimate)) : 0;
            var nightCritical = (double)runs.Criticality.NightCritical[task] / runs.Count;
            return new TaskRisk(indexedTask.Id, critical, nightCritical, withFinish, withLaunch,
                deviation > 0 ? critical * ownDeviation / deviation : 0, (double)runs.Criticality.PutOff[task] / runs.Count);
        }
    }

    /// <summary>Ranks from 1; equal values share their mean rank.</summary>
    private static double[] Ranks(float[] values)
    {
        var (sorted, ranks) = ((float[])values.Clone(), new double[values.Length]);
        var runs = Enumerable.Range(0, values.Length).ToArray();
        Array.Sort(sorted, runs);
        for (var first = 0; first < sorted.Length;)
        {
            var next = first + 1;
            while (next < sorted.Length && sorted[next] == sorted[first]) next++;
            for (var index = first; index < next; index++) ranks[runs[index]] = (first + 1 + next) / 2.0;
            first = next;
        }
        return ranks;
    }

    /// <summary>Pearson's correlation coefficient; 0 if one of the two is constant.</summary>
    private static double Correlation(double[] xs, double[] ys)
    {
        var (meanX, meanY) = (xs.Average(), ys.Average());
        var (products, squaresX, squaresY) = (0.0, 0.0, 0.0);
        for (var run = 0; run < xs.Length; run++)
        {
            var (x, y) = (xs[run] - meanX, ys[run] - meanY);
            products += x * y;
            squaresX += x * x;
            squaresY += y * y;
        }
        return squaresX == 0 || squaresY == 0 ? 0 : products / Math.Sqrt(squaresX * squaresY);
    }

    private static double StandardDeviation(double[] values)
    {
        if (values.Length < 2) return 0;
        var mean = values.Average();
        return Math.Sqrt(values.Sum(value => (value - mean) * (value - mean)) / (values.Length - 1));
    }
}
