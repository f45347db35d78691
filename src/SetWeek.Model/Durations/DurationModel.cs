using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Durations;

/// <summary>
/// Computes the duration of each activity. An estimate is for the whole task in its first mode. Other modes scale with their
/// minutes, and each of n stints takes 1/n. A task draws one number a run: if it is slow, all its stints are slow. Planned
/// minutes are rounded up to the time grid; simulated minutes are not.
/// </summary>
internal sealed class DurationModel(Problem problem, RiskOptions options)
{
    public SimulatedDuration OfStint(Stint stint, int mode) => Of(stint, mode, RemainingShare(stint, mode), 0, 0);

    /// <summary>
    /// The duration of work under way or done. Work that is done, or has a reported end, is certain. Reported remaining minutes
    /// are taken as the most likely ones. Without a report, the distribution is truncated at the elapsed time.
    /// </summary>
    public SimulatedDuration OfBegun(Stint stint, ScheduledWork begun)
    {
        var facts = problem.Facts!;
        var report = problem.Replan!.Progress.Last(entry => entry.Task == stint.Task.Id && entry.Stint == stint.Number);
        if (report.State == WorkState.Done || report.To is not null) return SimulatedDuration.Certain(begun.Span.Minutes);
        var (elapsed, whole) = (Math.Max(0, facts.Now - begun.From), MostLikely(stint, begun.Mode));
        if (report.RemainingMinutes is { } remaining) return Of(stint, begun.Mode, remaining / whole, elapsed, 0);
        var estimate = EstimateOf(stint.Task);
        if (estimate.IsCertain || elapsed >= estimate.Pessimistic * Scale(stint, begun.Mode))
            return SimulatedDuration.Certain(Math.Max(elapsed, begun.Span.Minutes));
        var length = elapsed / Scale(stint, begun.Mode);
        return Of(stint, begun.Mode, 1, 0, options.Distribution.Cdf(estimate, length));
    }

    public static SimulatedDuration OfCleanDown(Zone zone) => SimulatedDuration.Certain(zone.CleanDown!.Minutes);

    public ThreePointEstimate EstimateOf(IndexedTask task)
    {
        var weekTask = problem.Week.Tasks[task.Index];
        double likely = weekTask.Modes[0].Minutes;
        return weekTask.Estimate is { } estimate ? new ThreePointEstimate(estimate.Optimistic, likely, estimate.Pessimistic)
            : options.DefaultSpread is { } spread
                ? new ThreePointEstimate(likely * spread.OptimisticPercent / 100, likely,
                    likely * spread.PessimisticPercent / 100)
            : new ThreePointEstimate(likely, likely, likely);
    }

    private SimulatedDuration Of(Stint stint, int mode, double remainingShare, double elapsed, double truncationProbability)
    {
        var estimate = EstimateOf(stint.Task);
        if (estimate.IsCertain) return SimulatedDuration.Certain(elapsed + MostLikely(stint, mode) * remainingShare);
        return new SimulatedDuration(elapsed,
            new RandomDuration(estimate, Scale(stint, mode) * remainingShare, truncationProbability, options.Distribution,
                new CommonRandomNumbers(options.Seed, stint.Task.Id)));
    }

    /// <summary>Below 1 only for work that was begun, then blocked with minutes remaining.</summary>
    private double RemainingShare(Stint stint, int mode)
    {
        if (problem.Facts?.RemainingMinutes[stint.Index] is null) return 1;
        var report = problem.Replan!.Progress.Last(entry => entry.Task == stint.Task.Id && entry.Stint == stint.Number);
        return report.RemainingMinutes!.Value / MostLikely(stint, mode);
    }

    private double MostLikely(Stint stint, int mode) => (double)ModesOf(stint)[mode].Minutes / stint.Task.StintCount;

    private double Scale(Stint stint, int mode) => MostLikely(stint, mode) / ModesOf(stint)[0].Minutes;

    private IReadOnlyList<Mode> ModesOf(Stint stint) => problem.Week.Tasks[stint.Task.Index].Modes;
}
