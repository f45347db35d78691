using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="TwoPersonRule"/> in the exact model.</summary>
internal static class TwoPersonConstraint
{
    public static void Post(CpWeekModel model)
    {
        if (model.Problem.Rules.MinPeople is not { } least || least < 2) return;
        foreach (var night in model.Problem.Nights)
        {
            CpShift[] shifts = [.. model.ShiftsOn(night.Index).Where(shift => !model.IsFixedFalse(shift.Present))];
            if (shifts.All(shift => shift.IsFixed)) continue;
            // The earliest time at which anyone can still arrive or leave is the next time on the shift grid. Earlier steps can
            // no longer change, so they get no constraint.
            var firstMinute = model.Problem.NextShiftSlot(night.Index, model.Now) - night.Opens;
            var steps = shifts.Max(model.LastStep);
            for (var step = firstMinute / model.Problem.ShiftGridMinutes; step < steps; step++)
                PostStep(model, night.Index, step, least, shifts);
        }
        foreach (var shift in model.FreeShifts()) model.LinkCoverToLength(shift);
    }

    /// <summary>During one step of the shift grid, nobody or at least the least number of people are on shift.</summary>
    private static void PostStep(CpWeekModel model, int night, int step, int least, CpShift[] shifts)
    {
        ILiteral[] present = [.. shifts.Select(shift => model.Covers(shift, step)).Where(covers => !model.IsFixedFalse(covers))];
        if (present.Length == 0) return;
        var attended = present.Any(model.IsFixedTrue) ? model.TrueLiteral : model.Cp.NewBoolVar("");
        foreach (var covers in present) model.Implies(covers, attended);
        model.AtLeast(LinearExpr.Sum(present) - LinearExpr.Term(attended, least), 0);
        model.AddAttendedStep(night, attended);
    }
}
