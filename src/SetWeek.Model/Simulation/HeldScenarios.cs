using System.Numerics;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Simulation;

/// <summary>How many scenarios a plan holds in, and in how many it leaves nothing half-secured for a morning.</summary>
/// <param name="Held">
/// Scenarios in which the plan meets launch and every due, closes every night by its closes and the grace, and leaves nothing
/// half-secured.
/// </param>
/// <param name="Secured">Scenarios in which it leaves nothing half-secured.</param>
/// <param name="Scenarios">All scenarios.</param>
/// <param name="MostOftenHalfSecured">
/// The two tasks, by index, of which the second most often does not secure the first in the same night, and in how many
/// scenarios; null if that never happens.
/// </param>
internal readonly record struct HeldScenarios(
    int Held, int Secured, int Scenarios, (int Before, int After, int Scenarios)? MostOftenHalfSecured)
{
    /// <summary>Counts over the scenarios of the week's own target (<see cref="Weeks.Week.Hold"/>).</summary>
    public static HeldScenarios Of(Problem problem, Schedule schedule) =>
        Of(problem, schedule, RiskOptions.ForScenariosOf(problem.Week.Hold));

    /// <summary>Counts over as many scenarios as the options say.</summary>
    public static HeldScenarios Of(Problem problem, Schedule schedule, RiskOptions options)
    {
        var network = new SimulationNetwork(problem, schedule, options);
        var simulation = new BlockSimulation(network);
        // Without an uncertain duration all scenarios are equal.
        var scenarios = network.Activities.Any(activity => activity.Duration.RandomPart is not null) ? options.Runs : 1;
        var (held, secured) = (0, 0);
        var halfSecured = new int[network.Activities.Count];
        for (var first = 0; first < scenarios; first += Lanes.Count)
        {
            var lanes = scenarios - first >= Lanes.Count ? ulong.MaxValue : (1UL << scenarios - first) - 1;
            var state = simulation.Simulate(first);
            var isSecured = ~state.Unsecured & lanes;
            for (var index = 0; isSecured != lanes && index < halfSecured.Length; index++)
                halfSecured[index] += BitOperations.PopCount(state.HalfSecured[index] & lanes);
            secured += BitOperations.PopCount(isSecured);
            held += BitOperations.PopCount(InTime(problem, network, state) & isSecured);
        }
        var runsPerScenario = options.Runs / scenarios;
        return new(runsPerScenario * held, runsPerScenario * secured, options.Runs,
            MostOften(network, halfSecured, runsPerScenario));
    }

    private static (int, int, int)? MostOften(SimulationNetwork network, int[] halfSecured, int runsPerScenario)
    {
        var most = Array.IndexOf(halfSecured, halfSecured.DefaultIfEmpty(0).Max());
        return most < 0 || halfSecured[most] == 0 ? null
            : (network.Activities[network.Activities[most].SameNightAs[0]].Task, network.Activities[most].Task,
                runsPerScenario * halfSecured[most]);
    }

    /// <summary>The set of lanes in which launch and dues are met and each night that is not over closes in time.</summary>
    private static ulong InTime(Problem problem, SimulationNetwork network, SimulationState state)
    {
        // A launch or a due night that is over has lapsed: no plan can meet it.
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        var inTime = LanesWithin(state.LatestEnd.Times(0), problem.HasPassed(launch) ? Problem.Never : launch);
        foreach (var night in problem.Nights)
            if (night.Closes > (problem.Facts?.Now ?? -Problem.Never))
                inTime &= LanesWithin(state.NightEnds.Times(night.Index),
                    night.Closes + network.GraceMinutes - network.NightLimits.ClosingMinutes);
        foreach (var task in problem.Tasks)
            if (problem.BindingDue(task) is var due && due < Problem.Never && network.LastActivityOf(task) is { } activity)
                inTime &= LanesWithin(state.Ends.Times(activity), due);
        return inTime;
    }

    private static ulong LanesWithin(ReadOnlySpan<float> ends, float limit)
    {
        var within = 0UL;
        for (var lane = 0; lane < Lanes.Count; lane++) if (ends[lane] <= limit) within |= 1UL << lane;
        return within;
    }
}
