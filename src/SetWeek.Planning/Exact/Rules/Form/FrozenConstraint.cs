using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="FrozenRule"/> in the exact model.</summary>
internal static class FrozenConstraint
{
    /// <summary>What has begun is constant from the start; this keeps the rest out of the past.</summary>
    public static void Post(CpWeekModel model)
    {
        if (model.Problem.Facts is not { } facts) return;
        foreach (var (activity, mode, _, moments) in model.AllStartDomains())
        {
            moments.AtLeast(model.CeilingUnit(facts.Now));
            if (activity.Stint is not { } stint) continue;
            moments.AtLeast(model.CeilingUnit(facts.EarliestStarts[stint.Index]));
            if (facts.FixedModes[stint.Index] is { } kept && kept != mode) moments.AtMost(-Problem.Never);
        }
        foreach (var shift in model.FreeShifts())
        {
            if (shift.Begun is null) model.AtLeast(shift.From, model.CeilingUnit(facts.Now), shift.Present);
            else model.AtLeast(shift.To, model.CeilingUnit(facts.Now));
            if (shift.Begun?.Break is not { } rest || rest.From >= facts.Now)
                model.AtLeast(shift.BreakFrom, model.CeilingUnit(facts.Now), shift.HasBreak);
        }
    }
}
