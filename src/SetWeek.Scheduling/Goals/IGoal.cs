using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

/// <summary>A goal: measured on a finished plan, and as an expression of the exact model. Smaller is better.</summary>
internal interface IGoal
{
    string Id { get; }

    long Measure(Problem problem, Schedule schedule);

    /// <summary>
    /// An expression that is never more than <see cref="Measure"/> of any plan of the model and, where it says that it is
    /// exact, that minimising makes equal.
    /// </summary>
    GoalTerm Post(ExactModel model);
}

/// <summary>A goal's value in the exact model: a sum of whole numbers, divided and rounded up.</summary>
internal readonly record struct GoalTerm(LinearExpr Sum, long Per = 1, bool Exact = true)
{
    public static implicit operator GoalTerm(LinearExpr sum) => new(sum);

    /// <summary>What the value is, or is bounded by, where the sum is.</summary>
    public long Of(double sum) => (long)Math.Ceiling(Math.Ceiling(sum - 1e-6) / Per - 1e-9);
}
