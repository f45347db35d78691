using SetWeek.Model.Durations;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Scenarios;

/// <summary>The duration of every stint in every mode and scenario, drawn once for all plans (common random numbers).</summary>
internal sealed class DurationScenarios
{
    private readonly float[][][] minutes;
    private readonly float[][] mostLikely;

    public DurationScenarios(CompactProblem compact)
    {
        var (problem, hold) = (compact.Problem, compact.Problem.Week.Hold);
        Count = hold.Scenarios;
        Lanes = (hold.Scenarios + Model.Simulation.Lanes.Count - 1) / Model.Simulation.Lanes.Count
            * Model.Simulation.Lanes.Count;
        var durations = new DurationModel(problem, RiskOptions.ForScenariosOf(hold));
        minutes = new float[compact.Stints][][];
        mostLikely = new float[compact.Stints][];
        foreach (var stint in problem.Stints)
        {
            var begun = problem.Facts?.BegunWork[stint.Index];
            SimulatedDuration[] ofModes = begun is null
                ? [.. stint.Task.Modes.Select((_, mode) => durations.OfStint(stint, mode))] : [durations.OfBegun(stint, begun)];
            AnyUncertain |= ofModes.Any(duration => duration.RandomPart is not null);
            mostLikely[stint.Index] = [.. ofModes.Select(duration => (float)duration.MostLikely)];
            minutes[stint.Index] = [.. ofModes.Select(duration =>
            {
                var drawn = new float[Lanes];
                duration.FillSamples(drawn, 0);
                return drawn;
            })];
        }
    }

    /// <summary>Number of scenarios.</summary>
    public int Count { get; }

    /// <summary>Scenarios, rounded up to whole blocks of 64; those beyond <see cref="Count"/> are not counted.</summary>
    public int Lanes { get; }

    /// <summary>False: all scenarios are equal.</summary>
    public bool AnyUncertain { get; }

    /// <summary>Minutes by scenario. Work that has begun has a single entry, whatever its mode.</summary>
    public ReadOnlySpan<float> MinutesOf(int stint, int mode) => minutes[stint][Math.Min(mode, minutes[stint].Length - 1)];

    /// <summary>Most likely minutes: the crew decides by these whether the stint still fits the night.</summary>
    public float MostLikelyOf(int stint, int mode) => mostLikely[stint][Math.Min(mode, mostLikely[stint].Length - 1)];
}
