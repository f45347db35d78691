using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What matters of the runs of a week, run by run: which met the launch, what was put off, how many nights ended in time.
/// Samples of changed weeks are drawn in the same luck (common random numbers), so that they are set side by side run by run.
/// </summary>
internal sealed class SimulationSample : IComparable<SimulationSample>
{
    /// <summary>Of a hundred runs one more or less is nothing to choose by.</summary>
    private const double Resolution = 0.01;

    private readonly bool[] meetsLaunch;
    private readonly int[] putOff, nightsInWindow;

    private SimulationSample(bool[] met, int[] putOff, int[] nightsInWindow) =>
        (this.meetsLaunch, this.putOff, this.nightsInWindow) = (met, putOff, nightsInWindow);

    public EstimatedProbability Launch => new(meetsLaunch.Count(held => held), meetsLaunch.Length);

    public double StintsPutOff => putOff.Average();

    public double NightsInWindow => nightsInWindow.Average();

    public static SimulationSample Of(MitigationCase mitigationCase, RiskOptions options, CancellationToken stop = default)
    {
        var problem = mitigationCase.Problem;
        var order = new SimulationNetwork(problem, mitigationCase.Schedule, options);
        var runs = SimulationRuns.Of(order, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        var inWindow = new int[options.Runs];
        foreach (var night in problem.Nights)
            for (var run = 0; run < inWindow.Length; run++)
                if (runs.NightEnds[night.Index][run] <= night.Closes - order.NightLimits.ClosingMinutes) inWindow[run]++;
        return new SimulationSample([.. runs.Finish.Select(end => end <= launch)], runs.PutOff, inWindow);
    }

    /// <summary>The same of the first so many runs alone.</summary>
    public SimulationSample FirstRuns(int runs) => new(meetsLaunch[..runs], putOff[..runs], nightsInWindow[..runs]);

    /// <summary>By the launch, in whole hundredths; between equals by what is put off, and then by the nights.</summary>
    public int CompareTo(SimulationSample? other) => other is null ? 1
        : Math.Round(Launch.Share / Resolution).CompareTo(Math.Round(other.Launch.Share / Resolution)) is var launch and not 0 ? launch
        : other.StintsPutOff.CompareTo(StintsPutOff) is var stints and not 0 ? stints
        : NightsInWindow.CompareTo(other.NightsInWindow);

    /// <summary>
    /// Gain in the share of runs that meet the launch, and its standard error: the runs are paired, so only those count that
    /// differ.
    /// </summary>
    public (double Gain, double Error) GainOver(SimulationSample baseline)
    {
        var (won, lost, runs) = (0.0, 0.0, meetsLaunch.Length);
        for (var run = 0; run < runs; run++)
        {
            if (meetsLaunch[run] && !baseline.meetsLaunch[run]) won++;
            if (!meetsLaunch[run] && baseline.meetsLaunch[run]) lost++;
        }
        var gain = (won - lost) / runs;
        return (gain, Math.Sqrt(Math.Max(0, (won + lost) / runs - gain * gain) / runs));
    }
}
