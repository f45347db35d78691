using NodaTime;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Time;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>
/// Monte Carlo simulation of a plan. Each run draws the durations of the tasks from their estimates, and carries out the plan in
/// its order with its people and nights. The report counts how often the plan holds.
/// </summary>
public static class RiskSimulation
{
    /// <summary>Our choice: an extra quarter of an hour, half an hour, an hour.</summary>
    private static readonly int[] GraceMinuteSteps = [15, 30, 60];

    /// <summary>Runs for each grace; the standard error of a probability is then at most 0.011.</summary>
    private const int GraceRuns = 2000;

    /// <summary>Runs that are timed before the others; also the fewest that are made.</summary>
    private const int TimedRuns = 256;

    /// <summary>Simulates a plan and reports how likely it is to hold.</summary>
    /// <param name="problem">The week. With the facts of a re-plan, the runs start from now.</param>
    /// <param name="schedule">A plan of the week that keeps the rules.</param>
    /// <param name="options">The number of runs, the seed and the distribution.</param>
    /// <param name="stop">Checked before each block of runs.</param>
    /// <exception cref="OperationCanceledException">The simulation was stopped; there is no partial report.</exception>
    public static RiskReport Of(Problem problem, Schedule schedule, RiskOptions options, CancellationToken stop = default) =>
        Of(problem, schedule, options, share: 1, stop);

    /// <summary>
    /// Simulates a plan while somebody waits. A few runs are timed first. If all of them would take longer than the limit, fewer
    /// are made, and the report says how many. The answer then takes about the limit, however busy the machine is.
    /// </summary>
    /// <param name="problem">The week.</param>
    /// <param name="schedule">A plan of the week that keeps the rules.</param>
    /// <param name="options">The number of runs, the seed and the distribution.</param>
    /// <param name="limit">The time to take, by its clock.</param>
    /// <param name="stop">Checked before each block of runs.</param>
    /// <exception cref="OperationCanceledException">The simulation was stopped; there is no partial report.</exception>
    public static RiskReport Within(
        Problem problem, Schedule schedule, RiskOptions options, SearchLimits limit, CancellationToken stop = default)
    {
        var timed = Math.Min(options.Runs, TimedRuns);
        var (few, started) = (options with { Runs = timed }, limit.Clock.GetTimestamp());
        SimulationRuns.Of(new SimulationNetwork(problem, schedule, few), few, stop);
        var allRuns = options.Runs + HoldChance.MeasuredRuns + GraceMinuteSteps.Length * Math.Min(options.Runs, GraceRuns);
        var expected = limit.Clock.GetElapsedTime(started) * ((double)allRuns / timed);
        var share = expected <= limit.Time ? 1 : limit.Time / expected;
        return Of(problem, schedule, options with { Runs = Math.Max(timed, (int)(options.Runs * share)) },
            Math.Max(share, (double)TimedRuns / HoldChance.MeasuredRuns), stop);
    }

    private static RiskReport Of(
        Problem problem, Schedule schedule, RiskOptions options, double share, CancellationToken stop)
    {
        var network = new SimulationNetwork(problem, schedule, options);
        var runs = SimulationRuns.Of(network, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        return new RiskReport
        {
            Runs = options.Runs,
            Seed = options.Seed,
            Distribution = options.Distribution,
            GraceMinutes = options.GraceMinutes,
            UncertainTasks = network.Activities.Where(activity => activity.Duration.RandomPart is not null)
                .DistinctBy(activity => activity.Task).Count(),
            Hold = HoldChance.Of(problem, schedule, share),
            Launch = Of(runs.Finish, launch),
            Done = Of(runs.Finish, Lanes.Never / 2),
            Secured = new EstimatedProbability(runs.Secured.Count(held => held), options.Runs),
            StintsPutOff = runs.PutOff.Average(),
            WithGrace = [.. GraceMinuteSteps.Where(grace => grace > options.GraceMinutes).Select(grace =>
                WithGrace(problem, schedule,
                    options with { Runs = Math.Min(options.Runs, (int)Math.Ceiling(GraceRuns * share)), GraceMinutes = grace },
                    stop))],
            Finish = FinishOf(problem, runs.Finish),
            Nights = [.. problem.Nights.Where(night => night.Closes > (problem.Facts?.Now ?? -Problem.Never))
                .Select(night => NightRiskOf(problem, network.NightLimits, runs, night))],
            Dues = [.. runs.DueTasks.Select((task, index) =>
                new DueRisk(task.Id, problem.Week.Tasks[task.Index].Due!, Of(runs.DueEnds[index], task.Due)))],
            Tasks = SensitivityIndices.Of(network, runs, options, launch, stop),
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
        return new NightRisk(night.Id, Of(ends, closes),
            PercentileTime(problem, sorted, 0.5), PercentileTime(problem, sorted, 0.8),
            ends.Average(end => Math.Max(0.0, end - closes)), runs.Overtime[night.Index].Average(minutes => (double)minutes));
    }

    private static float[] Sorted(float[] values)
    {
        var sorted = (float[])values.Clone();
        Array.Sort(sorted);
        return sorted;
    }

    /// <summary>
    /// The smallest simulated end that at least the given share of the runs keep, rounded up to the minute; null if work is not
    /// done by then, or there is none.
    /// </summary>
    private static OffsetDateTime? PercentileTime(Problem problem, float[] sorted, double share)
    {
        var time = sorted[Math.Max(0, (int)Math.Ceiling(share * sorted.Length) - 1)];
        return Math.Abs(time) < Lanes.Never / 2 ? problem.Grid.TimeOf((int)Math.Ceiling(time)) : null;
    }
}
