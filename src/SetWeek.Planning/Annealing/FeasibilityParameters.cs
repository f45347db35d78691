namespace SetWeek.Planning.Annealing;

/// <summary>Completion of a partial schedule by <see cref="FeasibilitySearch"/>. The defaults are measured.</summary>
internal sealed record FeasibilityParameters
{
    public RuinAndRecreateParameters Step { get; init; } = new()
    {
        PriorityRules =
        [
            new(PriorityKey.LatestEnd, Noise: 300), new(PriorityKey.MissingFirst, Noise: 0.5),
            new(PriorityKey.MostWork, Noise: 30),
        ],
        Prices = new() { MaxPayFactor = 0.3, VersatilityLevels = [3], NoiseLevels = [0.3], UniformNoise = true },
        EarliestInsertion = 0.3,
    };

    /// <summary>Temperature, in slots x people of missing work.</summary>
    public double Temperature { get; init; } = 4;

    /// <summary>Probability that activities that block a missing stint are removed; otherwise related stints are.</summary>
    public double Blockers { get; init; } = 0.7;

    /// <summary>Smallest and largest number of related stints that a ruin aims at.</summary>
    public int MinRemoved { get; init; } = 3;

    public int MaxRemoved { get; init; } = 14;

    /// <summary>Most steps for a plan that is constructed from nothing.</summary>
    public int Steps { get; init; } = 1500;

    /// <summary>Most steps for a re-plan that is reconstructed without regard to the published plan.</summary>
    public int ReconstructionSteps { get; init; } = 400;
}
