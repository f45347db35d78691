using SetWeek.Model.Rules.Order;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Order;

/// <summary>The constraint of <see cref="LastRule"/> in the exact model.</summary>
internal static class LastConstraint
{
    public static void Post(CpWeekModel model)
    {
        if (model.Problem.LastTask is not { } last) return;
        var firstStint = model.Activities[last.FirstStint];
        foreach (var activity in model.Activities)
            if (activity.Task?.Index != last.Index) model.AddPrecedence(activity, firstStint, 0);
    }
}
