using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="CostGoal"/> as an expression of the exact model.</summary>
internal static class CostObjective
{
    /// <summary>A rate is per hour and overtime a percentage, so the sum counts 1/6000 of a minor unit.</summary>
    private const long Divisor = 60 * 100;

    public static GoalExpression Post(CpWeekModel model)
    {
        var (rules, sum) = (model.Problem.Rules, LinearExpr.NewBuilder(model.Problem.Crew.Count * 8));
        var extra = (rules.OvertimePercent ?? 100) - 100;
        foreach (var person in model.Problem.Crew)
        {
            var paid = model.PaidMinutesOf(person.Index);
            sum.AddTerm(paid, 100L * person.Rate);
            if (rules.OvertimeAfterMinutes is not { } after || extra == 0) continue;
            var (plain, most) = (Math.Max(0, (long)after - person.MinutesAlready), model.MaxPaidMinutes(person.Index));
            if (most <= plain) continue;
            var overtime = model.Cp.NewIntVar(0, most - plain, "");
            // Dearer overtime is pushed down to its value by the objective. Cheaper overtime has to be fixed to it.
            if (extra > 0) model.AtMost(paid - overtime, plain);
            else model.Cp.AddMaxEquality(overtime, [paid - plain, LinearExpr.Constant(0)]);
            sum.AddTerm(overtime, (long)extra * person.Rate);
        }
        return new GoalExpression(sum, Divisor);
    }
}
