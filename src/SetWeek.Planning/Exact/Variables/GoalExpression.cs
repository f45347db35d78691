using Google.OrTools.Sat;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>A goal in the exact model. Its value is an integer sum divided by a constant and rounded up.</summary>
/// <param name="Sum">The integer sum to minimise.</param>
/// <param name="Divisor">What the sum is divided by.</param>
/// <param name="IsExact">False where the expression only bounds the goal from below.</param>
internal readonly record struct GoalExpression(LinearExpr Sum, long Divisor = 1, bool IsExact = true)
{
    // Solvers report integer bounds with rounding errors.
    private const double SumTolerance = 1e-6, ValueTolerance = 1e-9;

    public static implicit operator GoalExpression(LinearExpr sum) => new(sum);

    /// <summary>The goal's value at a value of the sum, or its bound at a bound of the sum.</summary>
    public long ValueAt(double sum) => (long)Math.Ceiling(Math.Ceiling(sum - SumTolerance) / Divisor - ValueTolerance);
}
