using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="FinishGoal"/> as an expression of the exact model.</summary>
internal static class FinishObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var begunEnd = model.Activities.Where(activity => activity.Begun)
            .Select(activity => (long)activity.FixedWork!.To).DefaultIfEmpty(0).Max();
        var latest = model.CeilingUnit(model.Horizon(model.Problem.Nights.Count - 1).To) * 2;
        var makespan = model.Cp.NewIntVar(model.CeilingUnit(begunEnd), latest, "");
        foreach (var activity in model.NotBegun) model.AtLeast(makespan - activity.End, 0, activity.Present);
        model.AddMakespanLoads(makespan);
        if (model.Unit == 1 || begunEnd == 0) return LinearExpr.Term(makespan, model.Unit);
        // Begun work may end between two units, so the finish is counted in minutes.
        var finish = model.Cp.NewIntVar(begunEnd, int.MaxValue, "");
        foreach (var activity in model.NotBegun)
            model.AtLeast(finish - LinearExpr.Term(activity.End, model.Unit), 0, activity.Present);
        return finish;
    }
}
