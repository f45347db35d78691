using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class LeftOutGoal : IGoal
{
    public string Id => "leftOut";

    public long Measure(Problem problem, Schedule schedule)
    {
        var placed = schedule.Placed(problem);
        var total = 0L;
        foreach (var display in problem.Displays)
        {
            // An alternate's own value does not count: its display's does, or the value of being replaced.
            if (display.InsteadOf is not null || placed[display.Index]) continue;
            if (display.Alternate is { } alternate && placed[alternate]) total += display.AlternateValue;
            else if (!display.Must) total += display.Value;
        }
        return total;
    }

    public GoalTerm Post(ExactModel model)
    {
        var sum = LinearExpr.NewBuilder(model.Problem.Displays.Count);
        foreach (var display in model.Problem.Displays)
        {
            if (display.InsteadOf is not null) continue;
            var (value, own) = (display.Must ? 0 : display.Value, model.Placed[display.Index]);
            sum.Add(value).AddTerm(own, -value);
            if (display.Alternate is not { } alternate) continue;
            // Never both: where the alternate stands the display does not. Facts may have begun both, and then nothing is lost.
            if (!(model.Stays(display.Index) && model.Stays(alternate)))
                sum.AddTerm(model.Placed[alternate], display.AlternateValue - value);
        }
        return sum;
    }
}
