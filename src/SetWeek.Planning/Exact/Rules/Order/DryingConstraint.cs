using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="DryingRule"/> in the exact model.</summary>
internal static class DryingConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
            foreach (var link in job.Task!.After)
                if (link.DryMinutes > 0) model.Follow(model.LastOf(link.Task), job, link.DryMinutes);
    }
}
