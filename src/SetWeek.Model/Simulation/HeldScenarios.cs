using System.Numerics;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Simulation;

/// <summary>How many scenarios a plan holds in, and in how many it leaves nothing half-secured for a morning.</summary>
/// <param name="Held">
/// Scenarios in which the plan meets launch and every due, closes every night by its closes and the grace, and leaves nothing
/// half-secured.
/// </param>
/// <param name="Secured">Scenarios in which it leaves nothing half-secured.</param>
/// <param name="Scenarios">All scenarios.</param>
internal readonly record struct HeldScenarios(int Held, int Secured, int Scenarios)
{
    /// <summary>Counts over the scenarios of the week's own target (<see cref="Weeks.Week.Hold"/>).</summary>
    public static HeldScenarios Of(Problem problem, Schedule schedule)
    {
        var hold = problem.Week.Hold;
        return Of(problem, schedule,
            new RiskOptions { Runs = hold.Scenarios, Seed = hold.Seed, GraceMinutes = hold.GraceMinutes });
    }

    /// <summary>Counts over as many scenarios as the options say.</summary>
    public static HeldScenarios Of(Problem problem, Schedule schedule, RiskOptions options)
    {
        var network = new SimulationNetwork(problem, schedule, options);
        var simulation = new BlockSimulation(network);
        // Without an uncertain duration all scenarios are equal.
        var scenarios = network.Activities.Any(activity => activity.Duration.RandomPart is not null) ? options.Runs : 1;
        var (held, secured) = (0, 0);
        for (var first = 0; first < scenarios; first += Lanes.Count)
        {
            var lanes = scenarios - first >= Lanes.Count ? ulong.MaxValue : (1UL << scenarios - first) - 1;
            var state = simulation.Simulate(first);
            var isSecured = ~state.Unsecured & lanes;
            secured += BitOperations.PopCount(isSecured);
            held += BitOperations.PopCount(InTime(problem, network, state) & isSecured);
        }
        return scenarios == options.Runs ? new(held, secured, scenarios)
            : new(held * options.Runs, secured * options.Runs, options.Runs);
    }

    /// <summary>The set of lanes in which launch and dues are met and each night that is not over closes in time.</summary>
    private static ulong InTime(Problem problem, SimulationNetwork network, SimulationState state)
    {
        var inTime = LanesWithin(state.LatestEnd.Times(0), problem.Grid.MinuteOf(problem.Week.Launch));
        foreach (var night in problem.Nights)
            if (night.Closes > (problem.Facts?.Now ?? -Problem.Never))
                inTime &= LanesWithin(state.NightEnds.Times(night.Index),
                    night.Closes + network.GraceMinutes - network.NightLimits.ClosingMinutes);
        foreach (var task in problem.Tasks)
            if (task.Due < Problem.Never && network.LastActivityOf(task) is { } activity)
                inTime &= LanesWithin(state.Ends.Times(activity), task.Due);
        return inTime;
    }

    private static ulong LanesWithin(ReadOnlySpan<float> ends, float limit)
    {
        var within = 0UL;
        for (var lane = 0; lane < Lanes.Count; lane++) if (ends[lane] <= limit) within |= 1UL << lane;
        return within;
    }
}
