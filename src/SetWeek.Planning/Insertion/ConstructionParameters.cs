namespace SetWeek.Planning.Insertion;

/// <summary>First plans from nothing by <see cref="PriorityRuleSampling"/>. The defaults are measured.</summary>
internal sealed record ConstructionParameters
{
    /// <summary>Attempts at a first plan.</summary>
    public int Attempts { get; init; } = 24;

    /// <summary>Attempts each time that a re-plan is reconstructed without regard to the published plan.</summary>
    public int ReconstructionAttempts { get; init; } = 6;

    /// <summary>Attempts without noise: each of the three priority rules with each insertion rule.</summary>
    public int PlainAttempts { get; init; } = 6;

    /// <summary>
    /// Attempt n has the noise min(<see cref="MaxNoise"/>, this x (n - <see cref="NoiseOffset"/>)), as a share of the key, half
    /// below the key and half above it.
    /// </summary>
    public double NoiseStep { get; init; } = 0.05;

    public int NoiseOffset { get; init; } = 4;
    public double MaxNoise { get; init; } = 0.5;

    /// <summary>Noise of the insertion prices is the noise of the order divided by this.</summary>
    public double PriceNoiseDivisor { get; init; } = 4;

    /// <summary>Price of versatile people's time in the first two of each four attempts.</summary>
    public double HighVersatility { get; init; } = 2;

    /// <summary>The same in the last two.</summary>
    public double LowVersatility { get; init; } = 0.5;

    /// <summary>Second priority rule: minutes earlier for each minute of scarce work.</summary>
    public double ScarcityWeight { get; init; } = 2;
}
