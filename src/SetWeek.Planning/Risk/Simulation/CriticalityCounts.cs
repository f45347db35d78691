using SetWeek.Model.Simulation;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>Counts, for each task, the runs in which it was on a critical path and those in which it was put off.</summary>
internal sealed class CriticalityCounts(int tasks)
{
    // A task counts once a run, however many of its stints are on the path. The stamp is the last run that counted it.
    private readonly long[] finishStamps = new long[tasks], nightStamps = new long[tasks], putOffStamps = new long[tasks];
    private long stamp;

    /// <summary>By task: runs in which it was on the critical path of the week.</summary>
    public int[] Critical { get; } = new int[tasks];

    /// <summary>By task: runs in which it was on the critical path of some night.</summary>
    public int[] NightCritical { get; } = new int[tasks];

    /// <summary>By task: runs in which some of its stints were put off.</summary>
    public int[] PutOff { get; } = new int[tasks];

    /// <summary>Counts the run in a lane and returns how many stints it put off.</summary>
    public int CountRun(SimulationNetwork network, SimulationState state, int lane)
    {
        var stints = 0;
        stamp++;
        CountCriticalPath(network, state, lane, state.LatestEnd.Causes(0)[lane], finishStamps, Critical);
        for (var night = 0; night < network.Problem.Nights.Count; night++)
            CountCriticalPath(network, state, lane, state.NightEnds.Causes(night)[lane], nightStamps, NightCritical);
        for (var index = 0; index < network.Activities.Count; index++)
        {
            var activity = network.Activities[index];
            if (activity.Kind != SimulatedActivityKind.Stint
                || state.Nights[index * Lanes.Count + lane] == activity.Night)
                continue;
            stints++;
            CountOnce(activity.Task, putOffStamps, PutOff);
        }
        return stints;
    }

    public void Add(CriticalityCounts other)
    {
        for (var task = 0; task < tasks; task++)
        {
            Critical[task] += other.Critical[task];
            NightCritical[task] += other.NightCritical[task];
            PutOff[task] += other.PutOff[task];
        }
    }

    /// <summary>Follows the critical path back from its last activity.</summary>
    private void CountCriticalPath(
        SimulationNetwork network, SimulationState state, int lane, int activity, long[] stamps, int[] counts)
    {
        for (; activity != Lanes.NoPredecessor; activity = state.Ends.Causes(activity)[lane])
            if (network.Activities[activity].Task is >= 0 and var task) CountOnce(task, stamps, counts);
    }

    private void CountOnce(int task, long[] stamps, int[] counts)
    {
        if (stamps[task] == stamp) return;
        stamps[task] = stamp;
        counts[task]++;
    }
}
