using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="DryingRule"/> in the exact model.</summary>
internal static class DryingConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.Stints)
            foreach (var precedence in activity.Task!.Precedences)
                if (precedence.LagMinutes > 0)
                    model.AddPrecedence(model.LastStintOf(precedence.Predecessor), activity, precedence.LagMinutes);
    }
}
