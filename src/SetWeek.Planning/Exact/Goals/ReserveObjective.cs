using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ReserveGoal"/> as an expression of the exact model.</summary>
internal static class ReserveObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var (night, sum) = (model.Problem.Nights.Count - 1, LinearExpr.NewBuilder(model.Activities.Count));
        foreach (var activity in model.Activities)
        {
            if (activity.Begun)
            {
                if (activity.FixedWork!.Night == night) sum.Add(activity.FixedWork.Span.Minutes * activity.FixedWork.Assignments.Count);
                continue;
            }
            for (var mode = 0; mode < activity.Modes.Count; mode++)
                if (activity.InModeAndNight[mode, night] is var place && !model.IsFixedFalse(place))
                    sum.AddTerm(place, activity.Sizes[mode] * model.Unit * activity.Modes[mode].People);
        }
        var beyond = model.Cp.NewIntVar(0, int.MaxValue, "");
        model.AtMost(sum - beyond, (model.Problem.Rules.ReservePercent ?? 60)
            * model.Problem.Crew.Sum(person => (long)person.MinutesAvailable(model.Problem.Nights[night])) / 100);
        return beyond;
    }
}
