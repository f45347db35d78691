using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="ZoneClosedRule"/> in the exact model.</summary>
internal static class ZoneClosedConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var task in model.Problem.Tasks)
        {
            if (task.ClosesZoneMinutes == 0) continue;
            var closer = model.LastStintOf(task.Index);
            foreach (var activity in model.Activities)
                if (activity.Zone == task.Zone && activity.Task?.Index != task.Index)
                    PostClosure(model, closer, activity, task.ClosesZoneMinutes);
        }
    }

    /// <summary>
    /// Other work ends before the closing task ends, or starts when the zone is open again. Where one of both is fixed, starts of
    /// the other are removed. Else a literal decides the order.
    /// </summary>
    private static void PostClosure(CpWeekModel model, CpActivity closer, CpActivity activity, int minutes)
    {
        if (model.IsFixedFalse(closer.Present) || model.IsFixedFalse(activity.Present)) return;
        if (closer.FixedWork is { } closing)
        {
            foreach (var (_, mode, _, starts) in model.StartDomainsOf(activity))
                starts.Remove(model.FloorUnit(closing.To) - activity.Sizes[mode] + 1,
                    model.CeilingUnit(closing.To + minutes) - 1);
        }
        else if (activity.FixedWork is { } work)
        {
            foreach (var (_, mode, _, starts) in model.StartDomainsOf(closer))
                starts.Remove(model.FloorUnit(work.From - minutes) + 1 - closer.Sizes[mode],
                    model.CeilingUnit(work.To) - 1 - closer.Sizes[mode]);
        }
        else
        {
            var endsBefore = model.Cp.NewBoolVar("");
            model.AtLeast(closer.End - activity.End, 0, endsBefore, closer.Present, activity.Present);
            model.AtLeast(activity.Start - closer.End, model.CeilingUnit(minutes),
                endsBefore.Not(), closer.Present, activity.Present);
        }
    }
}
