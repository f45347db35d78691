using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace SetWeek.Model.Durations;

/// <summary>
/// The quantile function of the beta distribution on [0, 1], for parameters of at least 1. The library's own inverse stops at a
/// fixed tolerance on the probability, which is too coarse in the tails (docs/decisions/risk.md has the measurement).
/// </summary>
internal static class BetaQuantile
{
    private const int MaxSteps = 100;
    private const double RelativeTolerance = 1e-14;

    /// <summary>
    /// Newton's method on the cumulative distribution; a step that leaves the bracket is replaced by bisection.
    /// </summary>
    public static double Of(double probability, double alpha, double beta)
    {
        if (probability <= 0) return 0;
        if (probability >= 1) return 1;
        // The lower tail keeps relative precision; the upper half follows by symmetry.
        if (probability > 0.5) return 1 - Of(1 - probability, beta, alpha);
        var (low, high) = (0.0, 1.0);
        // Near 0 the cumulative distribution is x^alpha / (alpha B(alpha, beta)).
        var x = Math.Min(0.5, Math.Pow(probability * alpha * SpecialFunctions.Beta(alpha, beta), 1 / alpha));
        for (var step = 0; step < MaxSteps; step++)
        {
            var error = SpecialFunctions.BetaRegularized(alpha, beta, x) - probability;
            if (error > 0) high = x;
            else low = x;
            var next = x - error / Beta.PDF(alpha, beta, x);
            if (!(next > low && next < high)) next = (low + high) / 2;
            var moved = Math.Abs(next - x);
            x = next;
            if (moved <= RelativeTolerance * x) break;
        }
        return x;
    }
}
