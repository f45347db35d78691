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
            // Nobody can come or go before the first moment of the shift grid from now on.
            var first = model.Problem.NextShiftSlot(night.Index, model.Now) - night.Opens;
            var steps = shifts.Max(model.LastStep);
            for (var step = first / model.Problem.ShiftGridMinutes; step < steps; step++) Post(model, night.Index, step, least, shifts);
        }
        foreach (var shift in model.FreeShifts()) model.LinkCoverToLength(shift);
    }

    private static void Post(CpWeekModel model, int night, int step, int least, CpShift[] shifts)
    {
        ILiteral[] there = [.. shifts.Select(shift => model.Covers(shift, step)).Where(covers => !model.IsFixedFalse(covers))];
        if (there.Length == 0) return;
        var any = there.Any(model.IsFixedTrue) ? model.TrueLiteral : model.Cp.NewBoolVar("");
        foreach (var covers in there) model.Implies(covers, any);
        model.AtLeast(LinearExpr.Sum(there) - LinearExpr.Term(any, least), 0);
        model.AddAttendedStep(night, any);
    }
}
