using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

/// <summary>A goal: measured on a finished plan, and as an expression of the exact model to minimise. Smaller is better.</summary>
internal interface IGoal
{
    string Id { get; }

    long Measure(Problem problem, Schedule schedule);

    /// <summary>An expression that equals <see cref="Measure"/> for every plan of the model, or that minimising makes equal.</summary>
    LinearExpr Post(ExactModel model);
}
