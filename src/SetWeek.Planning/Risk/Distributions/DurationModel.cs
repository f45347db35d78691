using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// How long each piece takes: an estimate belongs to the whole task in its first mode, other modes scale by their minutes, stints
/// by one in so many. A task draws once a run: if it is slow, all its stints are. Planned lengths are rounded up to the grid;
/// work is not.
/// </summary>
internal sealed class DurationModel(Problem problem, RiskOptions options)
{
    public SimulatedDuration OfStint(Stint stint, int mode) => Of(stint, mode, RemainingShare(stint, mode), 0, 0);

    /// <summary>
    /// Of begun work: what is done took what it took, and so does what has a reported end. Where only the minutes that remain are
    /// reported they are the most likely ones; where nothing is, what has passed rules out all that would have been shorter.
    /// </summary>
    public SimulatedDuration OfBegun(Stint stint, ScheduledWork begun)
    {
        var facts = problem.Facts!;
        var report = problem.Replan!.Progress.Last(one => one.Task == stint.Task.Id && one.Stint == stint.Number);
        if (report.State == WorkState.Done || report.To is not null) return SimulatedDuration.Certain(begun.Span.Minutes);
        var (elapsed, whole) = (Math.Max(0, facts.Now - begun.From), MostLikely(stint, begun.Mode));
        if (report.RemainingMinutes is { } remaining) return Of(stint, begun.Mode, remaining / whole, elapsed, 0);
        var estimate = EstimateOf(stint.Task);
        if (estimate.IsCertain || elapsed >= estimate.Pessimistic * Scale(stint, begun.Mode))
            return SimulatedDuration.Certain(Math.Max(elapsed, begun.Span.Minutes));
        var length = elapsed / Scale(stint, begun.Mode);
        return Of(stint, begun.Mode, 1, 0,
            options.Distribution.Cdf(estimate, length));
    }

    public static SimulatedDuration OfCleanDown(Zone zone) => SimulatedDuration.Certain(zone.CleanDown!.Minutes);

    public ThreePointEstimate EstimateOf(IndexedTask task)
    {
        var given = problem.Week.Tasks[task.Index];
        double likely = given.Modes[0].Minutes;
        return given.Estimate is { } estimate ? new ThreePointEstimate(estimate.Optimistic, likely, estimate.Pessimistic)
            : options.DefaultSpread is { } spread
                ? new ThreePointEstimate(likely * spread.OptimisticPercent / 100, likely, likely * spread.PessimisticPercent / 100)
            : new ThreePointEstimate(likely, likely, likely);
    }

    private SimulatedDuration Of(Stint stint, int mode, double remainingShare, double elapsed, double truncationProbability)
    {
        var estimate = EstimateOf(stint.Task);
        if (estimate.IsCertain) return SimulatedDuration.Certain(elapsed + MostLikely(stint, mode) * remainingShare);
        return new SimulatedDuration(elapsed,
            new RandomDuration(estimate, Scale(stint, mode) * remainingShare, truncationProbability, options.Distribution, new CommonRandomNumbers(options.Seed, stint.Task.Id)));
    }

    /// <summary>Of work that was blocked under way only what remains is to be done.</summary>
    private double RemainingShare(Stint stint, int mode)
    {
        if (problem.Facts?.RemainingMinutes[stint.Index] is null) return 1;
        var report = problem.Replan!.Progress.Last(one => one.Task == stint.Task.Id && one.Stint == stint.Number);
        return report.RemainingMinutes!.Value / MostLikely(stint, mode);
    }

    private double MostLikely(Stint stint, int mode) => (double)ModesOf(stint)[mode].Minutes / stint.Task.StintCount;

    private double Scale(Stint stint, int mode) => MostLikely(stint, mode) / ModesOf(stint)[0].Minutes;

    private IReadOnlyList<Mode> ModesOf(Stint stint) => problem.Week.Tasks[stint.Task.Index].Modes;
}
