using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class ReserveGoal : IGoal
{
    public GoalId Id => GoalId.Reserve;

    public long Measure(Problem problem, Schedule schedule)
    {
        var night = problem.Nights[^1];
        var work = schedule.Work.Where(work => work.Night == night.Index)
            .Sum(work => (long)work.Span.Minutes * work.Assignments.Count);
        var beyond = 100 * work - (problem.Rules.ReservePercent ?? 60) * problem.Crew.Sum(person => (long)person.MinutesAvailable(night));
        return beyond <= 0 ? 0 : (beyond + 99) / 100;
    }
}
