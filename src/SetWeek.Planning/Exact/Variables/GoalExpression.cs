using Google.OrTools.Sat;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>A goal's value in the exact model: a sum of whole numbers, divided and rounded up.</summary>
internal readonly record struct GoalExpression(LinearExpr Sum, long Divisor = 1, bool IsExact = true)
{
    public static implicit operator GoalExpression(LinearExpr sum) => new(sum);

    /// <summary>What the value is, or is bounded by, where the sum is.</summary>
    public long ValueAt(double sum) => (long)Math.Ceiling(Math.Ceiling(sum - 1e-6) / Divisor - 1e-9);
}
