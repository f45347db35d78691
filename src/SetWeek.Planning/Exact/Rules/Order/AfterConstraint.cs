using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="AfterRule"/> in the exact model.</summary>
internal static class AfterConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var job in model.Stints)
            foreach (var link in job.Task!.After) model.Follow(model.LastOf(link.Task), job, 0);
    }
}
