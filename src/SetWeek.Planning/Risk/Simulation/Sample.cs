using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Remedies;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What matters of the runs of a week, run by run: which met the launch, what was put off, how many nights ended in time.
/// Samples of changed weeks are drawn in the same luck (common random numbers), so that they are set side by side run by run.
/// </summary>
internal sealed class Sample : IComparable<Sample>
{
    /// <summary>Of a hundred runs one more or less is nothing to choose by.</summary>
    private const double Telling = 0.01;

    private readonly bool[] met;
    private readonly int[] putOff, nightsInWindow;

    private Sample(bool[] met, int[] putOff, int[] nightsInWindow) =>
        (this.met, this.putOff, this.nightsInWindow) = (met, putOff, nightsInWindow);

    public Chance Launch => new(met.Count(held => held), met.Length);

    public double StintsPutOff => putOff.Average();

    public double NightsInWindow => nightsInWindow.Average();

    public static Sample Of(Setting setting, RiskOptions options, CancellationToken stop = default)
    {
        var problem = setting.Problem;
        var order = new WorkOrder(problem, setting.Schedule, options);
        var runs = Runs.Of(order, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        var inWindow = new int[options.Runs];
        foreach (var night in problem.Nights)
            for (var run = 0; run < inWindow.Length; run++)
                if (runs.NightEnds[night.Index][run] <= night.Closes - order.Room.Closing) inWindow[run]++;
        return new Sample([.. runs.Finish.Select(end => end <= launch)], runs.PutOff, inWindow);
    }

    /// <summary>The same of the first so many runs alone.</summary>
    public Sample First(int runs) => new(met[..runs], putOff[..runs], nightsInWindow[..runs]);

    /// <summary>By the launch, in whole hundredths; between equals by what is put off, and then by the nights.</summary>
    public int CompareTo(Sample? other) => other is null ? 1
        : Math.Round(Launch.Share / Telling).CompareTo(Math.Round(other.Launch.Share / Telling)) is var launch and not 0 ? launch
        : other.StintsPutOff.CompareTo(StintsPutOff) is var stints and not 0 ? stints
        : NightsInWindow.CompareTo(other.NightsInWindow);

    /// <summary>
    /// Gain in the share of runs that meet the launch, and its standard error: the runs are paired, so only those count that
    /// differ.
    /// </summary>
    public (double Gain, double Error) Over(Sample before)
    {
        var (won, lost, runs) = (0.0, 0.0, met.Length);
        for (var run = 0; run < runs; run++)
        {
            if (met[run] && !before.met[run]) won++;
            if (!met[run] && before.met[run]) lost++;
        }
        var gain = (won - lost) / runs;
        return (gain, Math.Sqrt(Math.Max(0, (won + lost) / runs - gain * gain) / runs));
    }
}
