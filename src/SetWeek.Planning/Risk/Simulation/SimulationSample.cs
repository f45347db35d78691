using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// The results of a week's runs that mitigations are compared by: which runs hold (the goal hold, with the grace of the runs) and
/// meet the launch, how many stints each puts off, and how many nights end in time. Samples of changed weeks use common random
/// numbers, so they are compared run by run.
/// </summary>
internal sealed class SimulationSample : IComparable<SimulationSample>
{
    /// <summary>Chances are compared in whole percent; smaller differences are noise.</summary>
    private const double Resolution = 0.01;

    private readonly bool[] holds, meetsLaunch;
    private readonly int[] putOff, nightsInWindow;

    private SimulationSample(bool[] holds, bool[] meetsLaunch, int[] putOff, int[] nightsInWindow) =>
        (this.holds, this.meetsLaunch, this.putOff, this.nightsInWindow) = (holds, meetsLaunch, putOff, nightsInWindow);

    public EstimatedProbability Holds => new(holds.Count(held => held), holds.Length);

    public EstimatedProbability Launch => new(meetsLaunch.Count(held => held), meetsLaunch.Length);

    public double StintsPutOff => putOff.Average();

    public double NightsInWindow => nightsInWindow.Average();

    public static SimulationSample Of(Problem problem, Schedule schedule, RiskOptions options, CancellationToken stop = default)
    {
        var network = new SimulationNetwork(problem, schedule, options);
        var runs = SimulationRuns.Of(network, options, stop);
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        var holds = (bool[])runs.Secured.Clone();
        var inWindow = new int[options.Runs];
        for (var run = 0; run < holds.Length; run++)
        {
            // Once the launch has passed, it is enough that all work is done.
            holds[run] &= runs.Finish[run] <= (problem.HasPassed(launch) ? Problem.Never : launch);
            for (var due = 0; due < runs.DueTasks.Count; due++)
                holds[run] &= runs.DueEnds[due][run] <= problem.BindingDue(runs.DueTasks[due]);
            foreach (var night in problem.Nights)
            {
                var late = runs.NightEnds[night.Index][run] - (night.Closes - network.NightLimits.ClosingMinutes);
                if (late <= 0) inWindow[run]++;
                holds[run] &= late <= options.GraceMinutes || night.Closes <= (problem.Facts?.Now ?? -Problem.Never);
            }
        }
        return new SimulationSample(holds, [.. runs.Finish.Select(end => end <= launch)], runs.PutOff, inWindow);
    }

    /// <summary>
    /// Orders by the chance to hold in whole percent, then by fewer stints put off, then by more nights in their windows.
    /// </summary>
    public int CompareTo(SimulationSample? other) => other is null ? 1
        : InSteps(Holds).CompareTo(InSteps(other.Holds)) is var holding and not 0 ? holding
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
