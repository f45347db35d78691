using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>The goal shifts: the number of shifts, one for each person and night.</summary>
internal sealed class ShiftsGoal : IGoal
{
    public GoalId Id => GoalId.Shifts;

    public long Measure(Problem problem, Schedule schedule) => schedule.Shifts.Count;
}
