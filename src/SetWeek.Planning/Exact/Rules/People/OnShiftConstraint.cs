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
                if (!model.IsFixedFalse(activity.HasPerson[person.Index]))
                    PostAssignment(model, activity, [.. model.ShiftsOf(person.Index)]);
        foreach (var shift in model.AllShifts)
        {
            if (model.IsFixedFalse(shift.Present)) continue;
            var (opens, ends) = (model.Opens(shift.Night), model.CeilingUnit(model.Horizon(shift.Night).To));
            var unavailable = model.UnavailableIntervals[shift.Person];
            if (!shift.IsFixed)
            {
                unavailable.Add(model.Cp.NewIntervalVar(LinearExpr.Constant(opens), shift.From - opens, shift.From, ""));
                unavailable.Add(model.Cp.NewIntervalVar(shift.To, ends - shift.To, LinearExpr.Constant(ends), ""));
            }
            if (!model.IsFixedFalse(shift.HasBreak))
                unavailable.Add(model.Cp.NewOptionalFixedSizeIntervalVar(
                    shift.BreakFrom, shift.BreakLength, shift.HasBreak, ""));
        }
    }

    /// <summary>
    /// Work in a night needs a shift in that night. The unavailable intervals keep work inside a free shift. For a fixed shift
    /// linear constraints do: with intervals that cover the whole night, the solver (9.15, without probing) reports some feasible
    /// models as infeasible.
    /// </summary>
    private static void PostAssignment(CpWeekModel model, CpActivity activity, CpShift[] shifts)
    {
        var hasPerson = activity.HasPerson[shifts[0].Person];
        foreach (var shift in shifts)
        {
            var (assigned, inNight) = model.AssignedInNightOrNull(activity, shift) is { } both
                ? (both, model.TrueLiteral) : (hasPerson, activity.InNight[shift.Night]);
            model.NotAll(assigned, inNight, shift.Present.Not());
            if (!shift.IsFixed || model.IsFixedFalse(shift.Present)) continue;
            model.AtLeast(activity.Start - shift.From, 0, assigned, inNight);
            model.AtLeast(shift.To - activity.End, 0, assigned, inNight);
        }
        model.NotAll(
        [
            hasPerson,
            .. shifts.Select(shift => model.AssignedInNightOrNull(activity, shift)?.Not() ?? shift.Present.Not()),
        ]);
    }
}
