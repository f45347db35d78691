using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ReserveGoal"/> as an expression of the exact model.</summary>
internal static class ReserveObjective
{
    private const int DefaultReservePercent = 60;

    public static GoalExpression Post(CpWeekModel model)
    {
        var (lastNight, sum) = (model.Problem.Nights.Count - 1, LinearExpr.NewBuilder(model.Activities.Count));
        foreach (var activity in model.Activities)
        {
            if (activity.Begun)
            {
                var work = activity.FixedWork!;
                if (work.Night == lastNight) sum.Add(work.Span.Minutes * work.Assignments.Count);
                continue;
            }
            for (var mode = 0; mode < activity.Modes.Count; mode++)
                if (activity.InModeAndNight[mode, lastNight] is var chosen && !model.IsFixedFalse(chosen))
                    sum.AddTerm(chosen, activity.Sizes[mode] * model.Unit * activity.Modes[mode].People);
        }
        var excess = model.Cp.NewIntVar(0, int.MaxValue, "");
        model.AtMost(sum - excess, (model.Problem.Rules.ReservePercent ?? DefaultReservePercent)
            * model.Problem.Crew.Sum(person => (long)person.MinutesAvailable(model.Problem.Nights[lastNight])) / 100);
        return excess;
    }
}
