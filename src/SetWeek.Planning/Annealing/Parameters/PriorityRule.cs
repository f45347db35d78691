using SetWeek.Model.Durations;

namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>What stints are sorted by before they are inserted, smallest key first.</summary>
internal enum PriorityKey
{
    /// <summary>Latest end, in minutes.</summary>
    LatestEnd,

    /// <summary>Work content (slots x people), largest first.</summary>
    MostWork,

    TopologicalRank,

    /// <summary>Stints that the current schedule lacks before those that the step removed.</summary>
    MissingFirst,

    /// <summary>The noise alone.</summary>
    None,
}

/// <summary>A priority rule with noise, so that repeated steps try different orders.</summary>
/// <param name="Key">What stints are sorted by.</param>
/// <param name="RelativeNoise">The key grows by a uniform share of itself, up to this.</param>
/// <param name="Noise">The key grows by a uniform amount up to this, in the key's unit.</param>
internal readonly record struct PriorityRule(PriorityKey Key, double RelativeNoise = 0, double Noise = 0)
{
    /// <summary>The key with noise; draws nothing for a rule without noise.</summary>
    public double AddNoise(double key, SplitMix64 random)
    {
        if (RelativeNoise == 0 && Noise == 0) return key;
        var draw = random.NextDouble();
        return key * (1 + RelativeNoise * draw) + Noise * draw;
    }
}
