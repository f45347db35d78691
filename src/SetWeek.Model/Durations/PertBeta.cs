using MathNet.Numerics;

namespace SetWeek.Model.Durations;

/// <summary>
/// The beta distribution of PERT over a three-point estimate (Malcolm, Roseboom, Clark and Fazar 1959, cited from memory), with
/// weight 4 on the most likely value. Its parameters are alpha = 1 + 4 (m - a) / (b - a) and beta = 1 + 4 (b - m) / (b - a).
/// The variance is that of this distribution, and not the rule of thumb ((b - a) / 6) squared.
/// </summary>
public static class PertBeta
{
    private const double ModeWeight = 4;

    /// <summary>(a + 4 m + b) / 6, in the unit of the estimate.</summary>
    public static double Mean(ThreePointEstimate estimate) =>
        (estimate.Optimistic + ModeWeight * estimate.MostLikely + estimate.Pessimistic) / (ModeWeight + 2);

    /// <summary>In the unit of the estimate, squared.</summary>
    public static double Variance(ThreePointEstimate estimate) =>
        (Mean(estimate) - estimate.Optimistic) * (estimate.Pessimistic - Mean(estimate)) / (ModeWeight + 3);

    /// <summary>The probability that the duration is at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePointEstimate estimate, double length) =>
        length >= estimate.Pessimistic ? 1 : length <= estimate.Optimistic ? 0
        : SpecialFunctions.BetaRegularized(Alpha(estimate.RelativeMode), Beta(estimate.RelativeMode),
            (length - estimate.Optimistic) / estimate.Range);

    /// <summary>The duration that is exceeded with probability 1 - <paramref name="probability"/>, to about 12 digits.</summary>
    /// <param name="estimate">The three points.</param>
    /// <param name="probability">From 0 to 1.</param>
    public static double Quantile(ThreePointEstimate estimate, double probability) =>
        estimate.Optimistic + estimate.Range * UnitQuantile(estimate.RelativeMode, probability);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double UnitQuantile(double relativeMode, double probability) =>
        BetaQuantile.Of(probability, Alpha(relativeMode), Beta(relativeMode));

    internal static double Alpha(double relativeMode) => 1 + ModeWeight * relativeMode;

    internal static double Beta(double relativeMode) => 1 + ModeWeight * (1 - relativeMode);
}
