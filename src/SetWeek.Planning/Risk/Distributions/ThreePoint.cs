namespace SetWeek.Planning.Risk.Distributions;

/// <summary>A length that is not certain: at best, most likely, at worst. All three in the same unit, in this order.</summary>
public readonly record struct ThreePoint
{
    public ThreePoint(double optimistic, double likely, double pessimistic)
    {
        if (!(optimistic <= likely && likely <= pessimistic))
            throw new ArgumentException($"{optimistic}, {likely}, {pessimistic} are not in order.", nameof(likely));
        (Optimistic, Likely, Pessimistic) = (optimistic, likely, pessimistic);
    }

    public double Optimistic { get; }
    public double Likely { get; }
    public double Pessimistic { get; }

    public double Range => Pessimistic - Optimistic;

    public bool Certain => Range == 0;

    /// <summary>Where the most likely lies in the range, from 0 to 1; in the middle where there is no range.</summary>
    public double Peak => Certain ? 0.5 : (Likely - Optimistic) / Range;
}

/// <summary>How chance spreads over a range: both are common readings of three points.</summary>
public enum Spreading
{
    /// <summary>The beta distribution of PERT: the most likely counts four times.</summary>
    Beta,

    /// <summary>Straight up to the most likely and straight down from it: more weight at both ends.</summary>
    Triangular,
}

public static class Spreadings
{
    public static double Variance(this Spreading spreading, ThreePoint of) =>
        spreading == Spreading.Beta ? PertBeta.Variance(of) : Triangular.Variance(of);

    public static double Cdf(this Spreading spreading, ThreePoint of, double length) =>
        spreading == Spreading.Beta ? PertBeta.Cdf(of, length) : Triangular.Cdf(of, length);

    public static double Quantile(this Spreading spreading, ThreePoint of, double chance) =>
        spreading == Spreading.Beta ? PertBeta.Quantile(of, chance) : Triangular.Quantile(of, chance);
}
