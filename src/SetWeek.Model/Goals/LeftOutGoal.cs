using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class LeftOutGoal : IGoal
{
    public GoalId Id => GoalId.LeftOut;

    public long Measure(Problem problem, Schedule schedule)
    {
        var placed = schedule.PlacedDisplays(problem);
        var total = 0L;
        foreach (var display in problem.Displays)
        {
            // An alternate's own value does not count: its display's does, or the value of being replaced.
            if (display.AlternateOf is not null || placed[display.Index]) continue;
            if (display.Alternate is { } alternate && placed[alternate]) total += display.AlternateValue;
            else if (!display.Must) total += display.Value;
        }
        return total;
    }
}
