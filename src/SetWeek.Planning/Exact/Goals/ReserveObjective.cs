using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ReserveGoal"/> as an expression of the exact model.</summary>
internal static class ReserveObjective
{
    public static GoalTerm Post(ExactModel model)
    {
        var (night, sum) = (model.Problem.Nights.Count - 1, LinearExpr.NewBuilder(model.Jobs.Count));
        foreach (var job in model.Jobs)
        {
            if (job.Begun)
            {
                if (job.Fixed!.Night == night) sum.Add(job.Fixed.Span.Minutes * job.Fixed.People.Count);
                continue;
            }
            for (var mode = 0; mode < job.Ways.Count; mode++)
                if (job.Places[mode, night] is var place && !model.IsNo(place))
                    sum.AddTerm(place, job.Sizes[mode] * model.Unit * job.Ways[mode].People);
        }
        var beyond = model.Cp.NewIntVar(0, int.MaxValue, "");
        model.AtMost(sum - beyond, (model.Problem.Rules.ReservePercent ?? 60)
            * model.Problem.Crew.Sum(person => (long)person.MinutesAvailable(model.Problem.Nights[night])) / 100);
        return beyond;
    }
}
