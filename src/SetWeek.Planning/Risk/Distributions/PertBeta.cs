namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// The beta distribution that PERT reads three points as, with the most likely of weight four (lambda 4): parameters
/// 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b - a), which sum to 6. Its variance is exact here, and is not the rule of thumb
/// ((b - a) / 6) squared, which <see cref="RuleOfThumbVariance"/> gives because textbooks sum it.
/// </summary>
public static class PertBeta
{
    private const double ModeWeight = 4;

    public static double Mean(ThreePointEstimate estimate) => (estimate.Optimistic + ModeWeight * estimate.MostLikely + estimate.Pessimistic) / (ModeWeight + 2);

    public static double Variance(ThreePointEstimate estimate) => (Mean(estimate) - estimate.Optimistic) * (estimate.Pessimistic - Mean(estimate)) / (ModeWeight + 3);

    public static double RuleOfThumbVariance(ThreePointEstimate estimate) => estimate.Range * estimate.Range / 36;

    /// <summary>Chance of at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePointEstimate estimate, double length) =>
        length >= estimate.Pessimistic ? 1 : length <= estimate.Optimistic ? 0
        : IncompleteBeta.Of((length - estimate.Optimistic) / estimate.Range, Alpha(estimate.RelativeMode), Beta(estimate.RelativeMode));

    /// <summary>The length that is not passed with the chance given, from 0 to 1; to about 12 digits.</summary>
    public static double Quantile(ThreePointEstimate estimate, double probability) => estimate.Optimistic + estimate.Range * UnitQuantile(estimate.RelativeMode, probability);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double UnitQuantile(double relativeMode, double probability) => IncompleteBeta.Inverse(probability, Alpha(relativeMode), Beta(relativeMode));

    internal static double Alpha(double relativeMode) => 1 + ModeWeight * relativeMode;

    internal static double Beta(double relativeMode) => 1 + ModeWeight * (1 - relativeMode);
}
