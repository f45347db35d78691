using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="LaunchRule"/> in the exact model.</summary>
internal static class LaunchConstraint
{
    public static void Post(CpWeekModel model)
    {
        if (model.Problem.Launch <= model.Now) return;
        foreach (var (activity, mode, _, starts) in model.AllStartDomains())
            starts.AtMost(model.FloorUnit(model.Problem.Launch) - activity.Sizes[mode]);
    }
}
