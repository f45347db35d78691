namespace SetWeek.Model.Durations;

/// <summary>The triangular distribution over a three-point estimate, in closed form.</summary>
public static class Triangular
{
    /// <summary>In the unit of the estimate, squared.</summary>
    public static double Variance(ThreePointEstimate estimate)
    {
        var (a, m, b) = (estimate.Optimistic, estimate.MostLikely, estimate.Pessimistic);
        return (a * a + m * m + b * b - a * m - a * b - m * b) / 18;
    }

    /// <summary>The probability that the duration is at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePointEstimate estimate, double length)
    {
        if (length >= estimate.Pessimistic) return 1;
        if (length <= estimate.Optimistic) return 0;
        return length <= estimate.MostLikely
            ? Square(length - estimate.Optimistic) / (estimate.Range * (estimate.MostLikely - estimate.Optimistic))
            : 1 - Square(estimate.Pessimistic - length) / (estimate.Range * (estimate.Pessimistic - estimate.MostLikely));
    }

    /// <summary>The duration that is exceeded with probability 1 - <paramref name="probability"/>.</summary>
    /// <param name="estimate">The three points.</param>
    /// <param name="probability">From 0 to 1.</param>
    public static double Quantile(ThreePointEstimate estimate, double probability) =>
        estimate.Optimistic + estimate.Range * UnitQuantile(estimate.RelativeMode, probability);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double UnitQuantile(double relativeMode, double probability) => probability < relativeMode
        ? Math.Sqrt(probability * relativeMode) : 1 - Math.Sqrt((1 - probability) * (1 - relativeMode));

    private static double Square(double x) => x * x;
}
