using SetWeek.Model.Problems;

namespace SetWeek.Model.Simulation;

/// <summary>
/// Decides when work that was put off is retried in a later night. It is retried before its first successor there, or before the
/// clean-down of its zone, or else after the night's other work. These turns depend on the plan alone, so they are computed once.
/// </summary>
internal sealed class RetryTimetable
{
    private readonly List<Retry>[] retriesBefore;

    public RetryTimetable(Problem problem, IReadOnlyList<SimulatedActivity> activities)
    {
        retriesBefore = [.. Enumerable.Range(0, activities.Count + 1).Select(_ => new List<Retry>())];
        var successors = activities.Select(_ => new List<int>()).ToArray();
        for (var later = 0; later < activities.Count; later++)
            foreach (var arc in activities[later].Predecessors) successors[arc.Predecessor].Add(later);
        foreach (var night in problem.Nights)
        {
            var turns = new int[activities.Count];
            // Backwards, because an activity is retried no later than its successors that may be put off with it.
            for (var index = activities.Count - 1; index >= 0; index--)
                turns[index] = EarliestPosition(activities, successors[index], turns, index, night.Index);
            for (var index = 0; index < activities.Count; index++)
            {
                if (activities[index].Kind != SimulatedActivityKind.Stint || activities[index].Night >= night.Index) continue;
                retriesBefore[turns[index]].Add(new Retry(index, night.Index));
                // An activity that must follow in the same night is tried again right after each activity that it follows.
                foreach (var secured in activities[index].SameNightAs)
                    if (turns[secured] < turns[index]) retriesBefore[turns[secured]].Add(new Retry(index, night.Index));
            }
        }
    }

    /// <summary>
    /// The retries before an activity, or after all activities: night by night, in the order of the activities put off.
    /// </summary>
    public IReadOnlyList<Retry> Before(int index) => retriesBefore[index];

    private static int EarliestPosition(
        IReadOnlyList<SimulatedActivity> activities, List<int> successors, int[] turns, int index, int night)
    {
        var earliest = EndOfNight(activities, night, activities[index].Last);
        foreach (var later in successors)
        {
            var activity = activities[later];
            if (activity.Night == night && !activity.IsCleanDown) earliest = Math.Min(earliest, later);
            else if (activity.Night < night && activity.Kind == SimulatedActivityKind.Stint)
                earliest = Math.Min(earliest, turns[later]);
        }
        if (activities[index].Last) return earliest;
        for (var later = index + 1; later < earliest; later++)
        {
            var activity = activities[later];
            if (activity.Kind == SimulatedActivityKind.CleanDown && activity.Night == night
                && activity.Zone == activities[index].Zone)
                return later;
        }
        return earliest;
    }

    /// <summary>
    /// The index of the first activity after all planned work of a night. Added clean-downs and the final floor clean come after
    /// it. For the final floor clean itself, the index after the added clean-downs.
    /// </summary>
    private static int EndOfNight(IReadOnlyList<SimulatedActivity> activities, int night, bool last)
    {
        for (var index = 0; index < activities.Count; index++)
        {
            var activity = activities[index];
            if (activity.Kind == SimulatedActivityKind.Begun) continue;
            if (activity.Night > night) return index;
            if (!last && activity.Night == night && (activity.Kind == SimulatedActivityKind.AddedCleanDown || activity.Last))
                return index;
        }
        return activities.Count;
    }
}

/// <summary>If the activity is put off at its turn, it is tried in the given night.</summary>
internal readonly record struct Retry(int Activity, int Night);
