using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="LaunchRule"/> in the exact model.</summary>
internal static class LaunchConstraint
{
    public static void Post(ExactModel model)
    {
        if (model.Problem.Launch <= model.Now) return;
        foreach (var (job, mode, _, moments) in model.OpenSlots())
            moments.AtMost(model.Down(model.Problem.Launch) - job.Sizes[mode]);
    }
}
