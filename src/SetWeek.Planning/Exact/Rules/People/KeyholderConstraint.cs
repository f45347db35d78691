using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="KeyholderRule"/> in the exact model.</summary>
internal static class KeyholderConstraint
{
    public static void Post(CpWeekModel model)
    {
        if (!model.Problem.Rules.KeyholderPresent) return;
        foreach (var attendance in model.StoreAttendance)
        {
            CpShift[] shifts =
                [.. model.ShiftsOn(attendance.Night).Where(shift => shift.FixedShift is not { } known || known.To > model.Now)];
            if (shifts.All(shift => shift.IsFixed)) continue;
            var keyholders = new List<ILiteral>();
            foreach (var shift in shifts)
            {
                model.Implies(shift.Present, attendance.Attended);
                // A start in the past counts as now: what has happened binds nothing.
                var from = shift.Begun is null && shift.FixedShift is null ? shift.From
                    : LinearExpr.Constant(model.FloorUnit(Math.Max(shift.FixedShift?.From ?? model.Now, model.Now)));
                model.AtLeast(from - attendance.From, 0, shift.Present);
                model.AtLeast(attendance.To - shift.To, 0, shift.Present);
                if (!model.Problem.Crew[shift.Person].Keyholder || model.IsFixedFalse(shift.Present)) continue;
                keyholders.Add(model.SpansAttendance(shift));
            }
            model.NotAll([attendance.Attended, .. keyholders.Select(spans => spans.Not())]);
        }
    }
}
