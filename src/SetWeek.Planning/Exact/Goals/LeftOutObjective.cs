using Google.OrTools.Sat;
using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary><see cref="LeftOutGoal"/> as an expression of the exact model.</summary>
internal static class LeftOutObjective
{
    public static GoalExpression Post(CpWeekModel model)
    {
        var sum = LinearExpr.NewBuilder(model.Problem.Displays.Count);
        foreach (var display in model.Problem.Displays)
        {
            if (display.AlternateOf is not null) continue;
            var (value, placed) = (display.Must ? 0 : display.Value, model.Placed[display.Index]);
            sum.Add(value).AddTerm(placed, -value);
            if (display.Alternate is not { } alternate) continue;
            // At most one of both is placed, unless work on both has begun. With both placed no value is lost.
            if (!(model.StaysPlaced(display.Index) && model.StaysPlaced(alternate)))
                sum.AddTerm(model.Placed[alternate], display.AlternateValue - value);
        }
        return sum;
    }
}
