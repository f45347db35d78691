using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="ShuffledGoal"/> as an expression of the exact model.</summary>
internal static class ShuffledObjective
{
    private const int ExpectedTerms = 64;

    /// <summary>
    /// One literal for each published stint: in its published night it is shuffled, or it starts within the tolerance and has its
    /// published people.
    /// </summary>
    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(ExpectedTerms);
        if (model.Problem.Facts is not { } facts) return sum;
        var publishedWork = facts.Published.WorkByStint(model.Problem);
        foreach (var activity in model.Stints)
        {
            if (facts.HasBegun[activity.Index] || publishedWork[activity.Index] is not { } published) continue;
            var inNight = activity.InNight[published.Night];
            if (model.IsFixedFalse(inNight)) continue;
            var shuffled = model.Cp.NewBoolVar("");
            model.AtLeast(activity.Start, model.CeilingUnit(published.From - ShuffledGoal.StartToleranceMinutes),
                inNight, shuffled.Not());
            model.AtMost(activity.Start, model.FloorUnit(published.From + ShuffledGoal.StartToleranceMinutes),
                inNight, shuffled.Not());
            foreach (var person in model.Problem.Crew)
            {
                var isAssigned = activity.HasPerson[person.Index];
                var wasAssigned = published.Assignments.Any(assignment => assignment.Person == person.Index);
                model.NotAll(inNight, shuffled.Not(), wasAssigned ? isAssigned.Not() : isAssigned);
            }
            sum.Add(shuffled);
        }
        return sum;
    }
}
