using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="KeyholderRule"/> in the exact model.</summary>
internal static class KeyholderConstraint
{
    public static void Post(ExactModel model)
    {
        if (!model.Problem.Rules.KeyholderPresent) return;
        foreach (var lead in model.Leads)
        {
            ExactDuty[] left = [.. model.DutiesOn(lead.Night).Where(duty => duty.Fixed is not { } shift || shift.To > model.Now)];
            if (left.All(duty => duty.Settled)) continue;
            var keys = new List<ILiteral>();
            foreach (var duty in left)
            {
                model.Implies(duty.On, lead.Attended);
                // Starts that lie in the past bind nothing.
                var from = duty.Begun is null && duty.Fixed is null ? duty.From
                    : LinearExpr.Constant(model.Down(Math.Max(duty.Fixed?.From ?? model.Now, model.Now)));
                model.AtLeast(from - lead.From, 0, duty.On);
                model.AtLeast(lead.To - duty.To, 0, duty.On);
                if (!model.Problem.Crew[duty.Person].Keyholder || model.IsNo(duty.On)) continue;
                var key = model.Cp.NewBoolVar("");
                model.Implies(key, duty.On);
                model.AtMost(duty.From - lead.From, 0, key);
                model.AtLeast(duty.To - lead.To, 0, key);
                keys.Add(key);
            }
            model.Never([lead.Attended, .. keys.Select(key => key.Not())]);
        }
    }
}
