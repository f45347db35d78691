namespace SetWeek.Planning.Risk.Distributions;

/// <summary>The triangular distribution over three points, in closed form.</summary>
public static class Triangular
{
    public static double Mean(ThreePointEstimate estimate) => (estimate.Optimistic + estimate.MostLikely + estimate.Pessimistic) / 3;

    public static double Variance(ThreePointEstimate estimate)
    {
        var (a, m, b) = (estimate.Optimistic, estimate.MostLikely, estimate.Pessimistic);
        return (a * a + m * m + b * b - a * m - a * b - m * b) / 18;
    }

    /// <summary>Chance of at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePointEstimate estimate, double length)
    {
        if (length >= estimate.Pessimistic) return 1;
        if (length <= estimate.Optimistic) return 0;
        return length <= estimate.MostLikely
            ? Square(length - estimate.Optimistic) / (estimate.Range * (estimate.MostLikely - estimate.Optimistic))
            : 1 - Square(estimate.Pessimistic - length) / (estimate.Range * (estimate.Pessimistic - estimate.MostLikely));
    }

    /// <summary>The length that is not passed with the chance given, from 0 to 1.</summary>
    public static double Quantile(ThreePointEstimate estimate, double probability) => estimate.Optimistic + estimate.Range * UnitQuantile(estimate.RelativeMode, probability);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double UnitQuantile(double relativeMode, double probability) =>
        probability < relativeMode ? Math.Sqrt(probability * relativeMode) : 1 - Math.Sqrt((1 - probability) * (1 - relativeMode));

    private static double Square(double x) => x * x;
}
