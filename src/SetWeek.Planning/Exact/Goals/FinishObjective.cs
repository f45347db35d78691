using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="FinishGoal"/> as an expression of the exact model.</summary>
internal static class FinishObjective
{
    public static GoalTerm Post(ExactModel model)
    {
        var begun = model.Jobs.Where(job => job.Begun).Select(job => (long)job.Fixed!.To).DefaultIfEmpty(0).Max();
        var last = model.Cp.NewIntVar(model.Up(begun), model.Up(model.Reach(model.Problem.Nights.Count - 1).To) * 2, "");
        foreach (var job in model.Open) model.AtLeast(last - job.End, 0, job.Present);
        model.AddLoads(last);
        if (model.Unit == 1 || begun == 0) return LinearExpr.Term(last, model.Unit);
        // Begun work may end off the grid.
        var finish = model.Cp.NewIntVar(begun, int.MaxValue, "");
        foreach (var job in model.Open) model.AtLeast(finish - LinearExpr.Term(job.End, model.Unit), 0, job.Present);
        return finish;
    }
}
