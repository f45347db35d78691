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
                if (activity.Zone == task.Zone && activity.Task?.Index != task.Index) PostClosure(model, closer, activity, task.ClosesZoneMinutes);
        }
    }

    private static void PostClosure(CpWeekModel model, CpActivity closer, CpActivity activity, int minutes)
    {
        if (model.IsFixedFalse(closer.Present) || model.IsFixedFalse(activity.Present)) return;
        if (closer.FixedWork is { } done)
        {
            foreach (var (_, mode, _, moments) in model.StartDomainsOf(activity))
                moments.Remove(model.FloorUnit(done.To) - activity.Sizes[mode] + 1, model.CeilingUnit(done.To + minutes) - 1);
        }
        else if (activity.FixedWork is { } there)
        {
            foreach (var (_, mode, _, moments) in model.StartDomainsOf(closer))
                moments.Remove(
                    model.FloorUnit(there.From - minutes) + 1 - closer.Sizes[mode], model.CeilingUnit(there.To) - 1 - closer.Sizes[mode]);
        }
        else
        {
            var before = model.Cp.NewBoolVar("");
            model.AtLeast(closer.End - activity.End, 0, before, closer.Present, activity.Present);
            model.AtLeast(activity.Start - closer.End, model.CeilingUnit(minutes), before.Not(), closer.Present, activity.Present);
        }
    }
}
