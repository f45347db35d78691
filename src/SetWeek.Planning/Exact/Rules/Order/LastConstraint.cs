using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="LastRule"/> in the exact model.</summary>
internal static class LastConstraint
{
    public static void Post(ExactModel model)
    {
        if (model.Problem.LastActivity is not { } last) return;
        var first = model.Jobs[last.FirstStint];
        foreach (var job in model.Jobs)
            if (job.Task?.Index != last.Index) model.Follow(job, first, 0);
    }
}
