using SetWeek.Model.Durations;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// The results of a week's runs that mitigations are compared by: which runs meet the launch, how many stints each puts off, and
/// how many nights end in time. Samples of changed weeks use common random numbers, so they are compared run by run.
/// </summary>
internal sealed class SimulationSample : IComparable<SimulationSample>
{
    /// <summary>Launch probabilities are compared in whole percent; smaller differences are noise.</summary>
    private const double Resolution = 0.01;

    private readonly bool[] meetsLaunch;
    private readonly int[] putOff, nightsInWindow;

    private SimulationSample(bool[] meetsLaunch, int[] putOff, int[] nightsInWindow) =>
        (this.meetsLaunch, this.putOff, this.nightsInWindow) = (meetsLaunch, putOff, nightsInWindow);

    public EstimatedProbability Launch => new(meetsLaunch.Count(held => held), meetsLaunch.Length);

    public double StintsPutOff => putOff.Average();

    public double NightsInWindow => nightsInWindow.Average();

    public static SimulationSample Of(MitigationCase mitigationCase, RiskOptions options, CancellationToken stop = default)
    {
        var problem = mitigationCase.Problem;
        var network = new SimulationNetwork(problem, mitigationCase.Schedule, options);
        var runs = SimulationRuns.Of(network, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        var inWindow = new int[options.Runs];
        foreach (var night in problem.Nights)
            for (var run = 0; run < inWindow.Length; run++)
                if (runs.NightEnds[night.Index][run] <= night.Closes - network.NightLimits.ClosingMinutes) inWindow[run]++;
        return new SimulationSample([.. runs.Finish.Select(end => end <= launch)], runs.PutOff, inWindow);
    }

    /// <summary>The sample of the first runs only.</summary>
    public SimulationSample FirstRuns(int runs) => new(meetsLaunch[..runs], putOff[..runs], nightsInWindow[..runs]);

    /// <summary>
    /// Orders by the launch in whole percent, then by fewer stints put off, then by more nights in their windows.
    /// </summary>
    public int CompareTo(SimulationSample? other) => other is null ? 1
        : InSteps(Launch).CompareTo(InSteps(other.Launch)) is var launch and not 0 ? launch
        : other.StintsPutOff.CompareTo(StintsPutOff) is var stints and not 0 ? stints
        : NightsInWindow.CompareTo(other.NightsInWindow);

    private static double InSteps(EstimatedProbability probability) => Math.Round(probability.Share / Resolution);

    /// <summary>
    /// The gain in the share of runs that meet the launch, and its standard error. The runs are paired, so only runs that differ
    /// contribute to the error.
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
