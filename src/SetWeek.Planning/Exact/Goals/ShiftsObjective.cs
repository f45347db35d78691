using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ShiftsGoal"/> as an expression of the exact model.</summary>
internal static class ShiftsObjective
{
    public static GoalExpression Post(CpWeekModel model) => LinearExpr.Sum(model.AllShifts.Select(shift => shift.Present));
}
