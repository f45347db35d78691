using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="FrozenRule"/> in the exact model.</summary>
internal static class FrozenConstraint
{
    /// <summary>
    /// Nothing new starts before now. Begun work and ended shifts are constants of the model and need no constraint.
    /// </summary>
    public static void Post(CpWeekModel model)
    {
        if (model.Problem.Facts is not { } facts) return;
        foreach (var (activity, mode, _, starts) in model.AllStartDomains())
        {
            starts.AtLeast(model.CeilingUnit(facts.Now));
            if (activity.Stint is not { } stint) continue;
            starts.AtLeast(model.CeilingUnit(facts.EarliestStarts[stint.Index]));
            // Blocked work that has begun keeps its mode: the domains of other modes become empty.
            if (facts.FixedModes[stint.Index] is { } fixedMode && fixedMode != mode) starts.AtMost(-Problem.Never);
        }
        foreach (var shift in model.FreeShifts())
        {
            if (shift.Begun is null) model.AtLeast(shift.From, model.CeilingUnit(facts.Now), shift.Present);
            else model.AtLeast(shift.To, model.CeilingUnit(facts.Now));
            if (shift.Begun?.Break is not { } published || published.From >= facts.Now)
                model.AtLeast(shift.BreakFrom, model.CeilingUnit(facts.Now), shift.HasBreak);
        }
    }
}
