using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="HandoversGoal"/> as an expression of the exact model.</summary>
internal static class HandoversObjective
{
    private const int ExpectedTerms = 64;

    /// <summary>One literal for each person and pair of consecutive stints: the person leaves the task between them.</summary>
    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(ExpectedTerms);
        foreach (var after in model.Stints.Where(activity => activity.Stint!.Number > 1))
        {
            var before = model.Activities[after.Index - 1];
            int[] nights = [.. model.Problem.Nights.Select(night => night.Index).Where(night =>
                !model.IsFixedFalse(before.InNight[night]) && !model.IsFixedFalse(after.InNight[night]))];
            foreach (var person in model.Problem.Crew)
            {
                var (isBefore, isAfter) = (before.HasPerson[person.Index], after.HasPerson[person.Index]);
                if (nights.Length == 0 || model.IsFixedFalse(isBefore) || model.IsFixedTrue(isAfter)) continue;
                var leaves = model.Cp.NewBoolVar("");
                foreach (var night in nights)
                    model.NotAll(before.InNight[night], after.InNight[night], isBefore, isAfter.Not(), leaves.Not());
                sum.Add(leaves);
            }
        }
        return sum;
    }
}
