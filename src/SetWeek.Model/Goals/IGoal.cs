using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>A goal: its id, and its value measured on a finished schedule. Smaller values are better.</summary>
internal interface IGoal
{
    /// <summary>The id by which week files, plans and pages name the goal.</summary>
    GoalId Id { get; }

    /// <summary>The value of the schedule in the goal's unit, never below 0.</summary>
    long Measure(Problem problem, Schedule schedule);
}
