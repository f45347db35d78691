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
            var (value, own) = (display.Must ? 0 : display.Value, model.Placed[display.Index]);
            sum.Add(value).AddTerm(own, -value);
            if (display.Alternate is not { } alternate) continue;
            // Never both: where the alternate stands the display does not. Facts may have begun both, and then nothing is lost.
            if (!(model.StaysPlaced(display.Index) && model.StaysPlaced(alternate)))
                sum.AddTerm(model.Placed[alternate], display.AlternateValue - value);
        }
        return sum;
    }
}
