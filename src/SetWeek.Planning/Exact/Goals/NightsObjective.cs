using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="NightsGoal"/> as an expression of the exact model.</summary>
internal static class NightsObjective
{
    public static GoalTerm Post(ExactModel model)
    {
        var last = model.Cp.NewIntVar(0, model.Problem.Nights.Count, "");
        foreach (var job in model.Jobs)
            model.AtLeast(last - LinearExpr.WeightedSum(job.Nights, Enumerable.Range(1, job.Nights.Length)), 0);
        return last;
    }
}
