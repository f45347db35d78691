namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// The regularised incomplete beta function and its inverse, for parameters from 1 up. The continued fraction is that of the
/// NIST Digital Library of Mathematical Functions, 8.17.22, evaluated by the modified Lentz method.
/// </summary>
internal static class IncompleteBeta
{
    private const double Tolerance = 1e-15, Tiny = 1e-300;

    public static double Of(double x, double a, double b)
    {
        if (x <= 0) return 0;
        if (x >= 1) return 1;
        // The fraction converges fast on this side; the other is its mirror image.
        return x < (a + 1) / (a + b + 2) ? ContinuedFraction(x, a, b) : 1 - ContinuedFraction(1 - x, b, a);
    }

    public static double Density(double x, double a, double b) =>
        Math.Exp((a - 1) * Math.Log(x) + (b - 1) * Math.Log(1 - x) - LogBeta(a, b));

    /// <summary>
    /// The x below which the share given lies: Newton's steps, kept inside a bracket that halves where they leave it.
    /// </summary>
    public static double Inverse(double probability, double a, double b)
    {
        if (probability <= 0) return 0;
        if (probability >= 1) return 1;
        if (probability > 0.5) return 1 - Inverse(1 - probability, b, a);
        var (low, high) = (0.0, 1.0);
        // Near 0 the function is x^a / (a B(a, b)); further on this is a start like any other.
        var x = Math.Min(0.5, Math.Exp((Math.Log(probability * a) + LogBeta(a, b)) / a));
        for (var step = 0; step < 100; step++)
        {
            var off = Of(x, a, b) - probability;
            if (off > 0) high = x;
            else low = x;
            var next = x - off / Density(x, a, b);
            if (!(next > low && next < high)) next = (low + high) / 2;
            var moved = Math.Abs(next - x);
            x = next;
            if (moved <= 1e-14 * x) break;
        }
        return x;
    }

    private static double ContinuedFraction(double x, double a, double b)
    {
        var front = Math.Exp(a * Math.Log(x) + b * Math.Log(1 - x) - LogBeta(a, b)) / a;
        var (c, d) = (1.0, 1 / AwayFromZero(1 - (a + b) * x / (a + 1)));
        var fraction = d;
        for (var m = 1; m < 300; m++)
        {
            Step(m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)));
            var change = Step(-(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)));
            if (Math.Abs(change - 1) < Tolerance) break;
        }
        return front * fraction;

        double Step(double term)
        {
            d = 1 / AwayFromZero(1 + term * d);
            c = AwayFromZero(1 + term / c);
            fraction *= c * d;
            return c * d;
        }
    }

    private static double AwayFromZero(double value) => Math.Abs(value) < Tiny ? Tiny : value;

    private static double LogBeta(double a, double b) => LogGamma(a) + LogGamma(b) - LogGamma(a + b);

    /// <summary>Stirling's series (DLMF 5.11.1), after stepping up to where five terms give all digits.</summary>
    private static double LogGamma(double z)
    {
        var product = 1.0;
        for (; z < 12; z++) product *= z;
        var (inverse, square) = (1 / z, 1 / (z * z));
        var series = inverse * (1.0 / 12 - square * (1.0 / 360 - square * (1.0 / 1260 - square * (1.0 / 1680 - square / 1188))));
        return (z - 0.5) * Math.Log(z) - z + 0.5 * Math.Log(2 * Math.PI) + series - Math.Log(product);
    }
}
