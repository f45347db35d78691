using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="OnShiftRule"/> in the exact model.</summary>
internal static class OnShiftConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var job in model.Open)
            foreach (var person in model.Problem.Crew)
                if (!model.IsNo(job.People[person.Index])) Post(model, job, [.. model.DutiesOf(person.Index)]);
        foreach (var duty in model.AllDuties)
        {
            var (opens, ends, away) = (model.Opens(duty.Night), model.Up(model.Reach(duty.Night).To), model.Away[duty.Person]);
            if (model.IsNo(duty.On)) continue;
            if (!duty.Settled)
            {
                away.Add(model.Cp.NewIntervalVar(LinearExpr.Constant(opens), duty.From - opens, duty.From, ""));
                away.Add(model.Cp.NewIntervalVar(duty.To, ends - duty.To, LinearExpr.Constant(ends), ""));
            }
            if (!model.IsNo(duty.Break))
                away.Add(model.Cp.NewOptionalFixedSizeIntervalVar(duty.BreakFrom, duty.BreakSize, duty.Break, ""));
        }
    }

    /// <summary>
    /// Time away is what keeps work inside a free shift; for a fixed one it is said outright. (A line of time that is away from
    /// end to end makes the solver, 9.15 without probing, call some models impossible that are not.)
    /// </summary>
    private static void Post(ExactModel model, ExactJob job, ExactDuty[] duties)
    {
        var at = job.People[duties[0].Person];
        foreach (var duty in duties)
        {
            var (there, then) = model.There(job, duty) is { } both ? (both, model.Yes) : (at, job.Nights[duty.Night]);
            model.Never(there, then, duty.On.Not());
            if (!duty.Settled || model.IsNo(duty.On)) continue;
            model.AtLeast(job.Start - duty.From, 0, there, then);
            model.AtLeast(duty.To - job.End, 0, there, then);
        }
        model.Never([at, .. duties.Select(duty => model.There(job, duty)?.Not() ?? duty.On.Not())]);
    }
}
