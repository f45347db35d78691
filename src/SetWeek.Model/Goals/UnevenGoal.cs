using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>The goal uneven: the largest difference in paid minutes between two people who have any availability.</summary>
internal sealed class UnevenGoal : IGoal
{
    public GoalId Id => GoalId.Uneven;

    public long Measure(Problem problem, Schedule schedule)
    {
        var paid = new long[problem.Crew.Count];
        foreach (var shift in schedule.Shifts) paid[shift.Person] += shift.PaidMinutes;
        var paidOfAvailable = problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0))
            .Select(person => paid[person.Index]).ToArray();
        return paidOfAvailable.Length == 0 ? 0 : paidOfAvailable.Max() - paidOfAvailable.Min();
    }
}
