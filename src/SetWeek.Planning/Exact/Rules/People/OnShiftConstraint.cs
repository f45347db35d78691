using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="OnShiftRule"/> in the exact model.</summary>
internal static class OnShiftConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var activity in model.NotBegun)
            foreach (var person in model.Problem.Crew)
                if (!model.IsFixedFalse(activity.HasPerson[person.Index])) Post(model, activity, [.. model.ShiftsOf(person.Index)]);
        foreach (var shift in model.AllShifts)
        {
            var (opens, ends, away) = (model.Opens(shift.Night), model.CeilingUnit(model.Horizon(shift.Night).To), model.UnavailableIntervals[shift.Person]);
            if (model.IsFixedFalse(shift.Present)) continue;
            if (!shift.IsFixed)
            {
                away.Add(model.Cp.NewIntervalVar(LinearExpr.Constant(opens), shift.From - opens, shift.From, ""));
                away.Add(model.Cp.NewIntervalVar(shift.To, ends - shift.To, LinearExpr.Constant(ends), ""));
            }
            if (!model.IsFixedFalse(shift.HasBreak))
                away.Add(model.Cp.NewOptionalFixedSizeIntervalVar(shift.BreakFrom, shift.BreakLength, shift.HasBreak, ""));
        }
    }

    /// <summary>
    /// Time away is what keeps work inside a free shift; for a fixed one it is said outright. (A line of time that is away from
    /// end to end makes the solver, 9.15 without probing, call some models impossible that are not.)
    /// </summary>
    private static void Post(CpWeekModel model, CpActivity activity, CpShift[] shifts)
    {
        var at = activity.HasPerson[shifts[0].Person];
        foreach (var shift in shifts)
        {
            var (there, then) = model.AssignedInNightOrNull(activity, shift) is { } both ? (both, model.TrueLiteral) : (at, activity.InNight[shift.Night]);
            model.NotAll(there, then, shift.Present.Not());
            if (!shift.IsFixed || model.IsFixedFalse(shift.Present)) continue;
            model.AtLeast(activity.Start - shift.From, 0, there, then);
            model.AtLeast(shift.To - activity.End, 0, there, then);
        }
        model.NotAll([at, .. shifts.Select(shift => model.AssignedInNightOrNull(activity, shift)?.Not() ?? shift.Present.Not())]);
    }
}
