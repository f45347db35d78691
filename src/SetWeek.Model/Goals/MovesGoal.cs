using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>The goal moves: how often a person's next work in a night, clean-downs included, is in another zone.</summary>
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
                ref var lastZone = ref zones[assignment.Person * problem.Nights.Count + work.Night];
                if (lastZone >= 0 && lastZone != work.Zone) moves++;
                lastZone = work.Zone;
            }
        return moves;
    }
}
