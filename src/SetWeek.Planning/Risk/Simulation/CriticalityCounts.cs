namespace SetWeek.Planning.Risk.Simulation;

/// <summary>In how many runs each task was what a finish waited for, and was put off.</summary>
internal sealed class CriticalityCounts(int tasks)
{
    // A task of several stints is on a chain once, however many of them are: a stamp says for which run it was counted.
    private readonly long[] finishStamps = new long[tasks], nightStamps = new long[tasks], putOffStamps = new long[tasks];
    private long stamp;

    public int[] Critical { get; } = new int[tasks];

    public int[] NightCritical { get; } = new int[tasks];

    public int[] PutOff { get; } = new int[tasks];

    /// <summary>Counts a run; the answer is how many of its stints were put off.</summary>
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
            if (activity.Kind != SimulatedActivityKind.Stint || state.Nights[index * Lanes.Count + lane] == activity.Night) continue;
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

    /// <summary>Back from an end along what each piece waited for.</summary>
    private void CountCriticalPath(SimulationNetwork network, SimulationState state, int lane, int activity, long[] counted, int[] counts)
    {
        for (; activity != Lanes.NoPredecessor; activity = state.Ends.Causes(activity)[lane])
            if (network.Activities[activity].Task is >= 0 and var task) CountOnce(task, counted, counts);
    }

    private void CountOnce(int task, long[] counted, int[] counts)
    {
        if (counted[task] == stamp) return;
        counted[task] = stamp;
        counts[task]++;
    }
}
