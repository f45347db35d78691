using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Form;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Form;

/// <summary>The constraint of <see cref="FrozenRule"/> in the exact model.</summary>
internal static class FrozenConstraint
{
    /// <summary>What has begun is constant from the start; this keeps the rest out of the past.</summary>
    public static void Post(ExactModel model)
    {
        if (model.Problem.Facts is not { } facts) return;
        foreach (var (job, mode, _, moments) in model.OpenSlots())
        {
            moments.AtLeast(model.Up(facts.Now));
            if (job.Stint is not { } stint) continue;
            moments.AtLeast(model.Up(facts.NotBefore[stint.Index]));
            if (facts.KeptMode[stint.Index] is { } kept && kept != mode) moments.AtMost(-Problem.Never);
        }
        foreach (var duty in model.OpenDuties())
        {
            if (duty.Begun is null) model.AtLeast(duty.From, model.Up(facts.Now), duty.On);
            else model.AtLeast(duty.To, model.Up(facts.Now));
            if (duty.Begun?.Break is not { } rest || rest.From >= facts.Now)
                model.AtLeast(duty.BreakFrom, model.Up(facts.Now), duty.Break);
        }
    }
}
