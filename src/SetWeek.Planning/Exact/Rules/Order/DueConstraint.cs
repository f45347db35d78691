using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="DueRule"/> in the exact model.</summary>
internal static class DueConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var (job, mode, _, moments) in model.OpenSlots())
            if (job.Stint is { IsLast: true, Task.Due: var due } && due < Problem.Never && due > model.Now)
                moments.AtMost(model.Down(due) - job.Sizes[mode]);
    }
}
