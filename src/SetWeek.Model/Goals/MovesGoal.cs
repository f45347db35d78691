using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class MovesGoal : IGoal
{
    public GoalId Id => GoalId.Moves;

    public long Measure(Problem problem, Schedule schedule)
    {
        var moves = 0L;
        var zones = new int[problem.Crew.Count * problem.Nights.Count];
        Array.Fill(zones, -1);
        foreach (var work in schedule.Work.OrderBy(work => work.From))
            foreach (var assignment in work.Assignments)
            {
                ref var before = ref zones[assignment.Person * problem.Nights.Count + work.Night];
                if (before >= 0 && before != work.Zone) moves++;
                before = work.Zone;
            }
        return moves;
    }
}
