using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal leftOut: the total value of the wants left out. A display that its alternate replaces counts the alternate's
/// value instead of its own.
/// </summary>
internal sealed class LeftOutGoal : IGoal
{
    public GoalId Id => GoalId.LeftOut;

    public long Measure(Problem problem, Schedule schedule)
    {
        var placed = schedule.PlacedDisplays(problem);
        var total = 0L;
        foreach (var display in problem.Displays)
        {
            // An alternate's own value never counts; the display that names it sets the value of the replacement.
            if (display.AlternateOf is not null || placed[display.Index]) continue;
            if (display.Alternate is { } alternate && placed[alternate]) total += display.AlternateValue;
            else if (!display.Must) total += display.Value;
        }
        return total;
    }
}
