using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="DueRule"/> in the exact model.</summary>
internal static class DueConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (activity, mode, _, starts) in model.AllStartDomains())
            if (activity.Stint is { IsLast: true } stint && model.Problem.BindingDue(stint.Task) is var due and < Problem.Never)
                starts.AtMost(model.FloorUnit(due) - activity.Sizes[mode]);
    }
}
