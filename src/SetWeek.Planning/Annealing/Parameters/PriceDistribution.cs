using SetWeek.Model.Durations;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>
/// How a step varies the insertion prices. Each factor is drawn anew for each step; u is uniform in [0, 1). Of several levels
/// each is drawn equally often.
/// </summary>
internal sealed record PriceDistribution
{
    /// <summary>Pay factor: this x u. Null: the usual factor.</summary>
    public double? MaxPayFactor { get; init; }

    /// <summary>Price of worked time: this x u.</summary>
    public double MaxWorkedTime { get; init; } = 1;

    /// <summary>Price of versatile people's time: a level x u.</summary>
    public IReadOnlyList<double> VersatilityLevels { get; init; } = [1];

    /// <summary>Price of delay: the usual price x a level.</summary>
    public IReadOnlyList<double> DelayFactors { get; init; } = [1];

    /// <summary>Noise: a level; a level x u if <see cref="UniformNoise"/>.</summary>
    public IReadOnlyList<double> NoiseLevels { get; init; } = [0];

    public bool UniformNoise { get; init; }

    /// <summary>True: the price of late work is its usual price x u, in searches that have a late-work criterion.</summary>
    public bool VariesLateWork { get; init; }

    /// <summary>Draws the prices of one step. Deterministic runs depend on the textual order of the draws.</summary>
    public InsertionPrices Draw(InsertionPrices usual, CompactProblem compact, SplitMix64 random) => usual with
    {
        LateWork = VariesLateWork && compact.LateWork is not null ? usual.LateWork * random.NextDouble() : usual.LateWork,
        PayFactor = MaxPayFactor is { } max ? max * random.NextDouble() : usual.PayFactor,
        WorkedTime = MaxWorkedTime * random.NextDouble(),
        Versatility = Pick(VersatilityLevels, random) * random.NextDouble(),
        Delay = usual.Delay * Pick(DelayFactors, random),
        Noise = Pick(NoiseLevels, random) * (UniformNoise ? random.NextDouble() : 1),
        // A reconstruction ignores the published plan.
        Change = compact.Published.AllShiftsReleased ? 0 : usual.Change,
        Displaced = compact.Published.AllShiftsReleased ? 0 : usual.Displaced,
        Shuffled = compact.Published.AllShiftsReleased ? 0 : usual.Shuffled,
    };

    private static double Pick(IReadOnlyList<double> levels, SplitMix64 random) =>
        levels.Count == 1 ? levels[0] : levels[random.NextBelow(levels.Count)];
}
