using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

/// <summary>The goal shifts: the number of shifts, one for each person and night.</summary>
internal sealed class ShiftsGoal : IGoal
{
    public string Id => "shifts";

    public long Measure(Problem problem, Schedule schedule) => schedule.Shifts.Count;
}
