namespace SetWeek.Planning.Risk.Distributions;

/// <summary>How the week is put to chance. The same options give the same result, whatever the number of workers.</summary>
public sealed record RiskOptions
{
    public const int DefaultRuns = 10_000, MaxRuns = 100_000, MaxGraceMinutes = 240;

    public int Runs { get; init; } = DefaultRuns;
    public int Seed { get; init; }
    public DurationDistribution Distribution { get; init; } = DurationDistribution.Beta;

    /// <summary>For tasks without an estimate; null: they take what the week says, neither more nor less.</summary>
    public DefaultSpread? DefaultSpread { get; init; }

    /// <summary>
    /// How much later than the rules allow, bans among them, a piece may be expected to end and is begun all the same, rather
    /// than put off for a night. Never for the under-18s.
    /// </summary>
    public int GraceMinutes { get; init; }

    /// <summary>Threads.</summary>
    public int Workers { get; init; } = 2;
}

/// <summary>At best and at worst, in percent of the most likely: 80 and 160.</summary>
public sealed record DefaultSpread(int OptimisticPercent, int PessimisticPercent);
