using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="KitRule"/> in the exact model.</summary>
internal static class KitConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (activity, _, _, starts) in model.AllStartDomains())
            if (activity.Task is { } task) starts.AtLeast(model.CeilingUnit(task.Release));
    }
}
