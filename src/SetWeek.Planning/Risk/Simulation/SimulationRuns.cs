using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>The results of all runs: ends by run, and counts by task.</summary>
internal sealed class SimulationRuns
{
    private readonly SimulationNetwork network;
    private readonly Lock criticalityLock = new();

    private SimulationRuns(SimulationNetwork network, int count)
    {
        this.network = network;
        Count = count;
        Finish = new float[count];
        var nights = network.Problem.Nights.Count;
        NightEnds = [.. Enumerable.Range(0, nights).Select(_ => new float[count])];
        Overtime = [.. Enumerable.Range(0, nights).Select(_ => new float[count])];
        DueTasks = [.. network.Problem.Tasks.Where(task => task.Due < Problem.Never && network.LastActivityOf(task) is not null)];
        DueEnds = [.. DueTasks.Select(_ => new float[count])];
        Secured = new bool[count];
        PutOff = new int[count];
        Criticality = new CriticalityCounts(network.Problem.Tasks.Count);
    }

    public int Count { get; }

    /// <summary>By run: the minute at which the last work ends; <see cref="Lanes.Never"/> if some work is not done.</summary>
    public float[] Finish { get; }

    /// <summary>By night, then by run: the end of its last work; <see cref="Lanes.None"/> if there is none.</summary>
    public float[][] NightEnds { get; }

    /// <summary>By night, then by run: person-minutes past the planned ends of shifts.</summary>
    public float[][] Overtime { get; }

    /// <summary>Planned tasks with a due night.</summary>
    public IReadOnlyList<IndexedTask> DueTasks { get; }

    /// <summary>By due task, then by run: the end of the task.</summary>
    public float[][] DueEnds { get; }

    /// <summary>By run: no work was left half-secured at the end of a night.</summary>
    public bool[] Secured { get; }

    /// <summary>By run: stints put off to a later night, or not done.</summary>
    public int[] PutOff { get; }

    public CriticalityCounts Criticality { get; }

    /// <summary>
    /// Simulates blocks of runs on several threads. The results do not depend on which thread takes which block.
    /// </summary>
    public static SimulationRuns Of(SimulationNetwork network, RiskOptions options, CancellationToken stop = default)
    {
        var runs = new SimulationRuns(network, options.Runs);
        var blocks = (options.Runs + Lanes.Count - 1) / Lanes.Count;
        WorkerThreads.ForEach(blocks, options.Workers, stop, mine =>
        {
            var (simulation, counts) = (new BlockSimulation(network), new CriticalityCounts(network.Problem.Tasks.Count));
            foreach (var block in mine) runs.Store(simulation.Simulate(block * Lanes.Count), counts, block * Lanes.Count);
            lock (runs.criticalityLock) runs.Criticality.Add(counts);
        });
        return runs;
    }

    private void Store(SimulationState state, CriticalityCounts counts, int first)
    {
        var count = Math.Min(Lanes.Count, Count - first);
        state.LatestEnd.Times(0)[..count].CopyTo(Finish.AsSpan(first));
        for (var night = 0; night < NightEnds.Length; night++)
        {
            state.NightEnds.Times(night)[..count].CopyTo(NightEnds[night].AsSpan(first));
            StoreOvertime(state, night, Overtime[night].AsSpan(first, count));
        }
        for (var due = 0; due < DueTasks.Count; due++)
            state.Ends.Times(network.LastActivityOf(DueTasks[due])!.Value)[..count].CopyTo(DueEnds[due].AsSpan(first));
        for (var lane = 0; lane < count; lane++)
        {
            Secured[first + lane] = (state.Unsecured >> lane & 1) == 0;
            PutOff[first + lane] = counts.CountRun(network, state, lane);
        }
    }

    private void StoreOvertime(SimulationState state, int night, Span<float> minutes)
    {
        for (var person = 0; person < network.Problem.Crew.Count; person++)
        {
            if (network.NightLimits.ShiftOf(person, night) is not { } shift) continue;
            var free = state.PersonFree.Times(state.PersonRow(person, night));
            var lastEnds = state.NightEnds.Times(night);
            var closes = network.NightLimits.Keyholders[night] == person;
            for (var lane = 0; lane < minutes.Length; lane++)
            {
                var leaves = closes ? Math.Max(free[lane], lastEnds[lane] + network.NightLimits.ClosingMinutes) : free[lane];
                minutes[lane] += Math.Max(0, leaves - shift.To);
            }
        }
    }
}
