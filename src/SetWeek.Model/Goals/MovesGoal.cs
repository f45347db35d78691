using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class MovesGoal : IGoal
{
    public string Id => "moves";

    public long Measure(Problem problem, Schedule schedule)
    {
        var moves = 0L;
        var zones = new int[problem.Crew.Count * problem.Nights.Count];
        Array.Fill(zones, -1);
        foreach (var work in schedule.Work.OrderBy(work => work.From))
            foreach (var hand in work.People)
            {
                ref var before = ref zones[hand.Person * problem.Nights.Count + work.Night];
                if (before >= 0 && before != work.Zone) moves++;
                before = work.Zone;
            }
        return moves;
    }
}
