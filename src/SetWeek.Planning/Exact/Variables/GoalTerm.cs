using Google.OrTools.Sat;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>A goal's value in the exact model: a sum of whole numbers, divided and rounded up.</summary>
internal readonly record struct GoalTerm(LinearExpr Sum, long Per = 1, bool Exact = true)
{
    public static implicit operator GoalTerm(LinearExpr sum) => new(sum);

    /// <summary>What the value is, or is bounded by, where the sum is.</summary>
    public long Of(double sum) => (long)Math.Ceiling(Math.Ceiling(sum - 1e-6) / Per - 1e-9);
}
