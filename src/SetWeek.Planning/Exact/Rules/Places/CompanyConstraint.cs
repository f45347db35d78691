using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="CompanyRule"/> in the exact model.</summary>
internal static class CompanyConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.Stints)
            if (!activity.Begun && activity.Task!.Company is { } company && !model.IsFixedFalse(activity.Present))
                PostCompany(model, activity, company.People);
    }

    /// <summary>
    /// A reservoir for each stint: the people of other work in its zone fill it, and the stint takes out as many as it needs
    /// beside its own, while it lasts. The level never falls below 0. Clean-downs come after all other work in their zone, and so
    /// are no company.
    /// </summary>
    private static void PostCompany(CpWeekModel model, CpActivity activity, int least)
    {
        CpActivity[] others = [.. model.Stints.Where(other => other.Zone == activity.Zone && other.Task != activity.Task
            && !model.IsFixedFalse(other.Present))];
        if (activity.FixedWork is not null && others.All(other => other.FixedWork is not null)) return;
        var most = others.Sum(other => (long)other.Modes.Max(mode => PeopleOf(other, mode)));
        var reservoir = model.Cp.AddReservoirConstraint(0, most + least);
        foreach (var other in others)
            for (var mode = 0; mode < other.Modes.Count; mode++)
            {
                var people = PeopleOf(other, other.Modes[mode]);
                if (people == 0 || model.IsFixedFalse(other.InMode[mode])) continue;
                reservoir.AddOptionalEvent(other.Start, people, other.InMode[mode]);
                reservoir.AddOptionalEvent(other.End, -people, other.InMode[mode]);
            }
        for (var mode = 0; mode < activity.Modes.Count; mode++)
        {
            var needed = least - activity.Modes[mode].People;
            if (needed <= 0 || model.IsFixedFalse(activity.InMode[mode])) continue;
            reservoir.AddOptionalEvent(activity.Start, -needed, activity.InMode[mode]);
            reservoir.AddOptionalEvent(activity.End, needed, activity.InMode[mode]);
        }
    }

    /// <summary>Begun work has the people that it has; other work those of its mode.</summary>
    private static int PeopleOf(CpActivity activity, ActivityMode mode) =>
        activity.Begun ? activity.FixedWork!.Assignments.Count : mode.People;
}
