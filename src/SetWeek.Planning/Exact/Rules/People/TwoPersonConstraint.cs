using Google.OrTools.Sat;
using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="TwoPersonRule"/> in the exact model.</summary>
internal static class TwoPersonConstraint
{
    public static void Post(ExactModel model)
    {
        if (model.Problem.Rules.MinPeople is not { } least || least < 2) return;
        foreach (var night in model.Problem.Nights)
        {
            ExactDuty[] duties = [.. model.DutiesOn(night.Index).Where(duty => !model.IsNo(duty.On))];
            if (duties.All(duty => duty.Settled)) continue;
            // Nobody can come or go before the first moment of the shift grid from now on.
            var first = model.Problem.NextShiftSlot(night.Index, model.Now) - night.Opens;
            var steps = duties.Max(model.LastStep);
            for (var step = first / model.Problem.ShiftGrid; step < steps; step++) Post(model, night.Index, step, least, duties);
        }
        foreach (var duty in model.OpenDuties()) model.CloseCover(duty);
    }

    private static void Post(ExactModel model, int night, int step, int least, ExactDuty[] duties)
    {
        ILiteral[] there = [.. duties.Select(duty => model.Covers(duty, step)).Where(covers => !model.IsNo(covers))];
        if (there.Length == 0) return;
        var any = there.Any(model.IsYes) ? model.Yes : model.Cp.NewBoolVar("");
        foreach (var covers in there) model.Implies(covers, any);
        model.AtLeast(LinearExpr.Sum(there) - LinearExpr.Term(any, least), 0);
        model.Attended(night, any);
    }
}
