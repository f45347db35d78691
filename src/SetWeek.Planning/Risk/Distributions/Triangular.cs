namespace SetWeek.Planning.Risk.Distributions;

/// <summary>The triangular distribution over three points, in closed form.</summary>
public static class Triangular
{
    public static double Mean(ThreePoint of) => (of.Optimistic + of.Likely + of.Pessimistic) / 3;

    public static double Variance(ThreePoint of)
    {
        var (a, m, b) = (of.Optimistic, of.Likely, of.Pessimistic);
        return (a * a + m * m + b * b - a * m - a * b - m * b) / 18;
    }

    /// <summary>Chance of at most <paramref name="length"/>.</summary>
    public static double Cdf(ThreePoint of, double length)
    {
        if (length >= of.Pessimistic) return 1;
        if (length <= of.Optimistic) return 0;
        return length <= of.Likely
            ? Square(length - of.Optimistic) / (of.Range * (of.Likely - of.Optimistic))
            : 1 - Square(of.Pessimistic - length) / (of.Range * (of.Pessimistic - of.Likely));
    }

    /// <summary>The length that is not passed with the chance given, from 0 to 1.</summary>
    public static double Quantile(ThreePoint of, double chance) => of.Optimistic + of.Range * Share(of.Peak, chance);

    /// <summary>The quantile as a share of the range.</summary>
    internal static double Share(double peak, double chance) =>
        chance < peak ? Math.Sqrt(chance * peak) : 1 - Math.Sqrt((1 - chance) * (1 - peak));

    private static double Square(double x) => x * x;
}
