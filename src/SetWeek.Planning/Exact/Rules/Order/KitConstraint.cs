using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="KitRule"/> in the exact model.</summary>
internal static class KitConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var (job, _, _, moments) in model.OpenSlots())
            if (job.Task is { } task) moments.AtLeast(model.Up(task.KitsIn));
    }
}
