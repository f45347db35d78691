using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="AfterRule"/> in the exact model.</summary>
internal static class AfterConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.Stints)
            foreach (var precedence in activity.Task!.Precedences)
                model.AddPrecedence(model.LastStintOf(precedence.Predecessor), activity, 0);
    }
}
