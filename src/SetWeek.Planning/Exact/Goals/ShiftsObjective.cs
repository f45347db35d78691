using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ShiftsGoal"/> as an expression of the exact model.</summary>
internal static class ShiftsObjective
{
    public static GoalTerm Post(ExactModel model) => LinearExpr.Sum(model.AllDuties.Select(duty => duty.On));
}
