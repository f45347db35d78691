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
        foreach (var lead in model.StoreAttendance)
        {
            CpShift[] left = [.. model.ShiftsOn(lead.Night).Where(duty => duty.FixedShift is not { } shift || shift.To > model.Now)];
            if (left.All(duty => duty.IsFixed)) continue;
            var keys = new List<ILiteral>();
            foreach (var duty in left)
            {
                model.Implies(duty.Present, lead.Attended);
                // Starts that lie in the past bind nothing.
                var from = duty.Begun is null && duty.FixedShift is null ? duty.From
                    : LinearExpr.Constant(model.FloorUnit(Math.Max(duty.FixedShift?.From ?? model.Now, model.Now)));
                model.AtLeast(from - lead.From, 0, duty.Present);
                model.AtLeast(lead.To - duty.To, 0, duty.Present);
                if (!model.Problem.Crew[duty.Person].Keyholder || model.IsFixedFalse(duty.Present)) continue;
                var key = model.Cp.NewBoolVar("");
                model.Implies(key, duty.Present);
                model.AtMost(duty.From - lead.From, 0, key);
                model.AtLeast(duty.To - lead.To, 0, key);
                keys.Add(key);
            }
            model.NotAll([lead.Attended, .. keys.Select(key => key.Not())]);
        }
    }
}
