using NodaTime;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;

namespace SetWeek.Planning.Risk;

/// <summary>
/// How likely a plan is to hold when work takes longer or shorter than thought: the plan is worked through many times in its
/// order, with its people and nights, each time with lengths drawn from the estimates.
/// </summary>
public static class RiskSimulation
{
    /// <summary>Of those who stay a little, most stay a quarter or half an hour: common practice, no source.</summary>
    private static readonly int[] GraceMinuteSteps = [15, 30, 60];

    /// <summary>Runs for each of them: enough for whole hundredths.</summary>
    private const int GraceRuns = 2000;

    /// <param name="problem">The week and, in the middle of it, what has happened: then the runs begin now.</param>
    /// <param name="schedule">A plan of it that keeps the rules.</param>
    /// <param name="options">How many runs, from which seed.</param>
    /// <param name="stop">Obeyed at once.</param>
    /// <exception cref="OperationCanceledException">
    /// It was stopped: some of the runs would not say how likely anything is.
    /// </exception>
    public static RiskReport Of(Problem problem, Schedule schedule, RiskOptions options, CancellationToken stop = default)
    {
        var order = new SimulationNetwork(problem, schedule, options);
        var runs = SimulationRuns.Of(order, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        return new RiskReport
        {
            Runs = options.Runs,
            Seed = options.Seed,
            Spreading = options.Distribution,
            UncertainTasks = order.Activities.Where(activity => activity.Duration.RandomPart is not null)
                .DistinctBy(activity => activity.Task).Count(),
            Launch = Of(runs.Finish, launch),
            Done = Of(runs.Finish, Lanes.Never / 2),
            Secured = new EstimatedProbability(runs.Secured.Count(held => held), options.Runs),
            StintsPutOff = runs.PutOff.Average(),
            WithGrace = [.. GraceMinuteSteps.Where(grace => grace > options.GraceMinutes).Select(grace =>
                WithGrace(problem, schedule, options with { Runs = Math.Min(options.Runs, GraceRuns), GraceMinutes = grace },
                    stop))],
            Finish = FinishOf(problem, runs.Finish),
            Nights = [.. problem.Nights.Where(night => night.Closes > (problem.Facts?.Now ?? -Problem.Never))
                .Select(night => NightRiskOf(problem, order.NightLimits, runs, night))],
            Dues = [.. runs.DueTasks.Select((task, index) =>
                new DueRisk(task.Id, problem.Week.Tasks[task.Index].Due!, Of(runs.DueEnds[index], task.Due)))],
            Tasks = SensitivityIndices.Of(order, runs, options, launch, stop),
        };
    }

    private static GraceRisk WithGrace(Problem problem, Schedule schedule, RiskOptions options, CancellationToken stop)
    {
        var runs = SimulationRuns.Of(new SimulationNetwork(problem, schedule, options), options, stop);
        return new GraceRisk(options.GraceMinutes, Of(runs.Finish, problem.Grid.MinuteOf(problem.Week.Launch)),
            runs.PutOff.Average());
    }

    private static EstimatedProbability Of(float[] ends, float by) => new(ends.Count(end => end <= by), ends.Length);

    private static FinishSpread FinishOf(Problem problem, float[] finish)
    {
        var sorted = Sorted(finish);
        double[] done = [.. sorted.Where(end => end < Lanes.Never / 2).Select(end => (double)end)];
        var mean = done.DefaultIfEmpty().Average();
        return new FinishSpread(
            PercentileTime(problem, sorted, 0.1), PercentileTime(problem, sorted, 0.5), PercentileTime(problem, sorted, 0.8),
            PercentileTime(problem, sorted, 0.9),
            done.Length == 0 ? null : mean,
            done.Length == 0 ? null : Math.Sqrt(done.Sum(end => (end - mean) * (end - mean)) / Math.Max(1, done.Length - 1)));
    }

    private static NightRisk NightRiskOf(Problem problem, NightLimits nightLimits, SimulationRuns runs, NightWindow night)
    {
        var (ends, closes) = (runs.NightEnds[night.Index], night.Closes - nightLimits.ClosingMinutes);
        var sorted = Sorted(ends);
        return new NightRisk(night.Id, Of(ends, closes), PercentileTime(problem, sorted, 0.5), PercentileTime(problem, sorted, 0.8),
            ends.Average(end => Math.Max(0.0, end - closes)), runs.Overtime[night.Index].Average(minutes => (double)minutes));
    }

    private static float[] Sorted(float[] values)
    {
        var sorted = (float[])values.Clone();
        Array.Sort(sorted);
        return sorted;
    }

    /// <summary>The least of the times seen that no fewer than such a share of the runs keep, rounded up to the minute.</summary>
    private static OffsetDateTime? PercentileTime(Problem problem, float[] sorted, double share)
    {
        var time = sorted[Math.Max(0, (int)Math.Ceiling(share * sorted.Length) - 1)];
        return Math.Abs(time) < Lanes.Never / 2 ? problem.Grid.TimeOf((int)Math.Ceiling(time)) : null;
    }
}
