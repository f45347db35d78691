using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="FinishGoal"/> as an expression of the exact model.</summary>
internal static class FinishObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var begun = model.Activities.Where(activity => activity.Begun).Select(activity => (long)activity.FixedWork!.To).DefaultIfEmpty(0).Max();
        var last = model.Cp.NewIntVar(model.CeilingUnit(begun), model.CeilingUnit(model.Horizon(model.Problem.Nights.Count - 1).To) * 2, "");
        foreach (var activity in model.NotBegun) model.AtLeast(last - activity.End, 0, activity.Present);
        model.AddMakespanLoads(last);
        if (model.Unit == 1 || begun == 0) return LinearExpr.Term(last, model.Unit);
        // Begun work may end off the grid.
        var finish = model.Cp.NewIntVar(begun, int.MaxValue, "");
        foreach (var activity in model.NotBegun) model.AtLeast(finish - LinearExpr.Term(activity.End, model.Unit), 0, activity.Present);
        return finish;
    }
}
