using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="LaunchRule"/> in the exact model.</summary>
internal static class LaunchConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (activity, mode, _, starts) in model.AllStartDomains())
            if (model.Problem.BindingLaunch(activity.Stint?.Task) is var launch and < Problem.Never)
                starts.AtMost(model.FloorUnit(launch) - activity.Sizes[mode]);
    }
}
