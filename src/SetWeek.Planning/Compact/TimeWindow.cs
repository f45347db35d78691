using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Minutes between which an activity must lie, by its own limits and its placed neighbours in the network.</summary>
internal readonly record struct TimeWindow(int EarliestStart, int LatestEnd)
{
    public static TimeWindow Of(CompactProblem compact, PartialSchedule schedule, int index)
    {
        var activity = compact.Activities[index];
        var (earliest, latest) = (activity.EarliestStart, activity.LatestEnd);
        if (!activity.IsFinal)
            foreach (var final in compact.FinalStints)
                if (schedule.Night[final] >= 0) latest = Math.Min(latest, schedule.StartMinute[final]);
        if (activity.CleanDownNight >= 0)
            return new(Math.Max(earliest, LastWorkEnd(compact, schedule, activity.Zone, activity.CleanDownNight)), latest);
        foreach (var (predecessor, lag) in activity.Predecessors)
            if (schedule.Night[predecessor] >= 0) earliest = Math.Max(earliest, schedule.EndMinute[predecessor] + lag);
        foreach (var (successor, lag) in activity.Successors)
            if (schedule.Night[successor] >= 0 && !compact.Activities[successor].HasBegun)
                latest = Math.Min(latest, schedule.StartMinute[successor] - lag);
        if (!activity.IsFinal) return new(earliest, latest);
        for (var other = 0; other < compact.Activities.Length; other++)
            if (schedule.Night[other] >= 0 && !compact.Activities[other].IsFinal)
                earliest = Math.Max(earliest, schedule.EndMinute[other]);
        return new(earliest, latest);
    }

    /// <summary>End of the last work in a zone and night that its clean-down must follow, in minutes.</summary>
    public static int LastWorkEnd(CompactProblem compact, PartialSchedule schedule, int zone, int night)
    {
        var last = -Problem.Never;
        foreach (var activity in compact.StintsByZone[zone])
            if (schedule.Night[activity] == night && !compact.Activities[activity].IsFinal)
                last = Math.Max(last, schedule.EndMinute[activity]);
        return last;
    }
}
