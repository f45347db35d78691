using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="NightsGoal"/> as an expression of the exact model.</summary>
internal static class NightsObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var last = model.Cp.NewIntVar(0, model.Problem.Nights.Count, "");
        foreach (var activity in model.Activities)
            model.AtLeast(last - LinearExpr.WeightedSum(activity.InNight, Enumerable.Range(1, activity.InNight.Length)), 0);
        return last;
    }
}
