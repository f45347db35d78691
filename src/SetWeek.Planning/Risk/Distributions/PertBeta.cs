namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// The beta distribution that PERT reads three points as, with the most likely of weight four (lambda 4): parameters
/// 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b - a), which sum to 6. Its variance is exact here, and is not the rule of thumb
/// ((b - a) / 6) squared, which <see cref="RuleOfThumbVariance"/> gives because textbooks sum it.
/// </summary>
public static class PertBeta
{
    private const double Weight = 4;

    public static double Mean(ThreePoint of) => (of.Optimistic + Weight * of.Likely + of.Pessimistic) / (Weight + 2);

    public static double Variance(ThreePoint of) => (Mean(of) - of.Optimistic) * (of.Pessimistic - Mean(of)) / (Weight + 3);

    public static double RuleOfThumbVariance(ThreePoint of) => of.Range * of.Range / 36;

    /// <summary>Chance of at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePoint of, double length) =>
        length >= of.Pessimistic ? 1 : length <= of.Optimistic ? 0
        : IncompleteBeta.Of((length - of.Optimistic) / of.Range, First(of.Peak), Second(of.Peak));

    /// <summary>The length that is not passed with the chance given, from 0 to 1; to about 12 digits.</summary>
    public static double Quantile(ThreePoint of, double chance) => of.Optimistic + of.Range * Share(of.Peak, chance);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double Share(double peak, double chance) => IncompleteBeta.Inverse(chance, First(peak), Second(peak));

    internal static double First(double peak) => 1 + Weight * peak;

    internal static double Second(double peak) => 1 + Weight * (1 - peak);
}
