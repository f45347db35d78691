using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

/// <summary>A goal: its id, and its value measured on a finished plan. Smaller is better.</summary>
internal interface IGoal
{
    GoalId Id { get; }

    long Measure(Problem problem, Schedule schedule);
}
