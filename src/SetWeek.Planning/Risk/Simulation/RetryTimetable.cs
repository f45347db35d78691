using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// When work that was put off gets its turn in a later night: before what waits for it there, before its zone is cleaned down, or
/// else when the rest of that night's work is done. Which piece that is before follows from the plan alone.
/// </summary>
internal sealed class RetryTimetable
{
    private readonly List<Retry>[] before;

    public RetryTimetable(Problem problem, IReadOnlyList<SimulatedActivity> activities)
    {
        before = [.. Enumerable.Range(0, activities.Count + 1).Select(_ => new List<Retry>())];
        var waiting = activities.Select(_ => new List<int>()).ToArray();
        for (var later = 0; later < activities.Count; later++)
            foreach (var arc in activities[later].Predecessors) waiting[arc.Predecessor].Add(later);
        foreach (var night in problem.Nights)
        {
            var turn = new int[activities.Count];
            // Backwards: what waits for a piece and would be put off with it has its turn no sooner than the piece itself.
            for (var index = activities.Count - 1; index >= 0; index--)
                turn[index] = EarliestPosition(activities, waiting[index], turn, index, night.Index);
            for (var index = 0; index < activities.Count; index++)
            {
                if (activities[index].Kind != SimulatedActivityKind.Stint || activities[index].Night >= night.Index) continue;
                before[turn[index]].Add(new Retry(index, night.Index));
                // What belongs to the same night is done at once, if it can be.
                if (activities[index].SameNightAs is >= 0 and var secured && turn[secured] < turn[index])
                    before[turn[secured]].Add(new Retry(index, night.Index));
            }
        }
    }

    /// <summary>
    /// Turns before a piece, or after all of them; of one night after another, in the order of the pieces put off.
    /// </summary>
    public IReadOnlyList<Retry> Before(int index) => before[index];

    private static int EarliestPosition(IReadOnlyList<SimulatedActivity> activities, List<int> waiting, int[] positions, int index, int night)
    {
        var earliest = EndOfNight(activities, night, activities[index].Last);
        foreach (var later in waiting)
        {
            var activity = activities[later];
            if (activity.Night == night && !activity.IsCleanDown) earliest = Math.Min(earliest, later);
            else if (activity.Night < night && activity.Kind == SimulatedActivityKind.Stint) earliest = Math.Min(earliest, positions[later]);
        }
        if (activities[index].Last) return earliest;
        for (var later = index + 1; later < earliest; later++)
        {
            var activity = activities[later];
            if (activity.Kind == SimulatedActivityKind.CleanDown && activity.Night == night && activity.Zone == activities[index].Zone) return later;
        }
        return earliest;
    }

    /// <summary>
    /// The piece before which a night's work, but for added clean-downs and the final floor clean, is done; the latter after
    /// those.
    /// </summary>
    private static int EndOfNight(IReadOnlyList<SimulatedActivity> activities, int night, bool last)
    {
        for (var index = 0; index < activities.Count; index++)
        {
            var activity = activities[index];
            if (activity.Kind == SimulatedActivityKind.Begun) continue;
            if (activity.Night > night) return index;
            if (!last && activity.Night == night && (activity.Kind == SimulatedActivityKind.AddedCleanDown || activity.Last)) return index;
        }
        return activities.Count;
    }
}

/// <summary>A piece that may be waiting, and the night in which it is then tried.</summary>
internal readonly record struct Retry(int Activity, int Night);
