using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class ShiftsGoal : IGoal
{
    public string Id => "shifts";

    public long Measure(Problem problem, Schedule schedule) => schedule.Shifts.Count;
}
