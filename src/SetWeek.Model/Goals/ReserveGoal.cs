using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal reserve: person-minutes of work in the last night beyond the reserve percentage of the crew's available minutes
/// in that night. It is rounded up and never below 0.
/// </summary>
internal sealed class ReserveGoal : IGoal
{
    public GoalId Id => GoalId.Reserve;

    public long Measure(Problem problem, Schedule schedule)
    {
        var night = problem.Nights[^1];
        var work = schedule.Work.Where(work => work.Night == night.Index)
            .Sum(work => (long)work.Span.Minutes * work.Assignments.Count);
        var available = problem.Crew.Sum(person => (long)person.MinutesAvailable(night));
        var excess = 100 * work - (problem.Rules.ReservePercent ?? 60) * available;
        return excess <= 0 ? 0 : (excess + 99) / 100;
    }
}
