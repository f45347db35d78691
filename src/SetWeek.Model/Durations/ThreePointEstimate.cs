namespace SetWeek.Model.Durations;

/// <summary>A three-point estimate of an uncertain duration. The points share one unit and are in ascending order.</summary>
public readonly record struct ThreePointEstimate
{
    /// <param name="optimistic">The shortest duration.</param>
    /// <param name="mostLikely">The mode of the distribution.</param>
    /// <param name="pessimistic">The longest duration.</param>
    /// <exception cref="ArgumentException">The points are not in ascending order.</exception>
    public ThreePointEstimate(double optimistic, double mostLikely, double pessimistic)
    {
        if (!(optimistic <= mostLikely && mostLikely <= pessimistic))
            throw new ArgumentException(
                $"The points {optimistic}, {mostLikely}, {pessimistic} are not in ascending order.", nameof(mostLikely));
        (Optimistic, MostLikely, Pessimistic) = (optimistic, mostLikely, pessimistic);
    }

    /// <summary>The shortest duration.</summary>
    public double Optimistic { get; }

    /// <summary>The mode of the distribution.</summary>
    public double MostLikely { get; }

    /// <summary>The longest duration.</summary>
    public double Pessimistic { get; }

    /// <summary>From the shortest duration to the longest.</summary>
    public double Range => Pessimistic - Optimistic;

    /// <summary>True if all three points are equal.</summary>
    public bool IsCertain => Range == 0;

    /// <summary>The position of the mode within the range, from 0 to 1; 0.5 if the duration is certain.</summary>
    public double RelativeMode => IsCertain ? 0.5 : (MostLikely - Optimistic) / Range;
}

/// <summary>The distribution that three points stand for.</summary>
public enum DurationDistribution
{
    /// <summary>The beta distribution of PERT: see <see cref="PertBeta"/>.</summary>
    Beta,

    /// <summary>The triangular distribution: its tails are heavier than those of <see cref="Beta"/>.</summary>
    Triangular,
}

/// <summary>The functions of each <see cref="DurationDistribution"/>.</summary>
public static class DistributionFunctions
{
    /// <summary>In the unit of the estimate, squared.</summary>
    public static double Variance(this DurationDistribution distribution, ThreePointEstimate estimate) =>
        distribution == DurationDistribution.Beta ? PertBeta.Variance(estimate) : Triangular.Variance(estimate);

    /// <summary>The probability that the duration is at most <paramref name="length"/>.</summary>
    public static double Cdf(this DurationDistribution distribution, ThreePointEstimate estimate, double length) =>
        distribution == DurationDistribution.Beta ? PertBeta.Cdf(estimate, length) : Triangular.Cdf(estimate, length);

    /// <summary>The duration that is exceeded with probability 1 - <paramref name="probability"/>.</summary>
    public static double Quantile(this DurationDistribution distribution, ThreePointEstimate estimate, double probability) =>
        distribution == DurationDistribution.Beta
            ? PertBeta.Quantile(estimate, probability) : Triangular.Quantile(estimate, probability);
}
