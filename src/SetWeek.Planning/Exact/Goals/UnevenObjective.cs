using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="UnevenGoal"/> as an expression of the exact model.</summary>
internal static class UnevenObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var available = model.Problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0)).ToArray();
        if (available.Length == 0) return LinearExpr.Constant(0);
        var top = available.Max(person => model.MaxPaidMinutes(person.Index));
        var (most, least) = (model.Cp.NewIntVar(0, top, ""), model.Cp.NewIntVar(0, top, ""));
        foreach (var person in available)
        {
            var paid = model.PaidMinutesOf(person.Index);
            model.AtLeast(most - paid, 0);
            model.AtMost(least - paid, 0);
        }
        return most - least;
    }
}
