namespace SetWeek.Planning.Risk.Distributions;

/// <summary>A length that is not certain: at best, most likely, at worst. All three in the same unit, in this order.</summary>
public readonly record struct ThreePointEstimate
{
    public ThreePointEstimate(double optimistic, double mostLikely, double pessimistic)
    {
        if (!(optimistic <= mostLikely && mostLikely <= pessimistic))
            throw new ArgumentException($"{optimistic}, {mostLikely}, {pessimistic} are not in order.", nameof(mostLikely));
        (Optimistic, MostLikely, Pessimistic) = (optimistic, mostLikely, pessimistic);
    }

    public double Optimistic { get; }
    public double MostLikely { get; }
    public double Pessimistic { get; }

    public double Range => Pessimistic - Optimistic;

    public bool IsCertain => Range == 0;

    /// <summary>Where the most likely lies in the range, from 0 to 1; in the middle where there is no range.</summary>
    public double RelativeMode => IsCertain ? 0.5 : (MostLikely - Optimistic) / Range;
}

/// <summary>How chance spreads over a range: both are common readings of three points.</summary>
public enum DurationDistribution
{
    /// <summary>The beta distribution of PERT: the most likely counts four times.</summary>
    Beta,

    /// <summary>Straight up to the most likely and straight down from it: more weight at both ends.</summary>
    Triangular,
}

public static class DistributionFunctions
{
    public static double Variance(this DurationDistribution distribution, ThreePointEstimate estimate) =>
        distribution == DurationDistribution.Beta ? PertBeta.Variance(estimate) : Triangular.Variance(estimate);

    public static double Cdf(this DurationDistribution distribution, ThreePointEstimate estimate, double length) =>
        distribution == DurationDistribution.Beta ? PertBeta.Cdf(estimate, length) : Triangular.Cdf(estimate, length);

    public static double Quantile(this DurationDistribution distribution, ThreePointEstimate estimate, double probability) =>
        distribution == DurationDistribution.Beta ? PertBeta.Quantile(estimate, probability) : Triangular.Quantile(estimate, probability);
}
