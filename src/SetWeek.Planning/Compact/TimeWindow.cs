using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Minutes between which a job may lie for what is placed before and after it.</summary>
internal readonly record struct TimeWindow(int EarliestStart, int LatestEnd)
{
    public static TimeWindow Of(CompactProblem compact, PartialSchedule schedule, int index)
    {
        var activity = compact.Activities[index];
        var (earliest, latest) = (activity.EarliestStart, activity.LatestEnd);
        if (!activity.IsFinal)
            foreach (var final in compact.FinalStints)
                if (schedule.Night[final] >= 0) latest = Math.Min(latest, schedule.StartMinute[final]);
        if (activity.CleanDownNight >= 0) return new(Math.Max(earliest, LastWorkEnd(compact, schedule, activity.Zone, activity.CleanDownNight)), latest);
        foreach (var precedence in activity.Predecessors)
            if (schedule.Night[precedence.Activity] >= 0) earliest = Math.Max(earliest, schedule.EndMinute[precedence.Activity] + precedence.Lag);
        foreach (var precedence in activity.Successors)
            if (schedule.Night[precedence.Activity] >= 0 && !compact.Activities[precedence.Activity].HasBegun) latest = Math.Min(latest, schedule.StartMinute[precedence.Activity] - precedence.Lag);
        if (!activity.IsFinal) return new(earliest, latest);
        for (var other = 0; other < compact.Activities.Length; other++)
            if (schedule.Night[other] >= 0 && !compact.Activities[other].IsFinal) earliest = Math.Max(earliest, schedule.EndMinute[other]);
        return new(earliest, latest);
    }

    /// <summary>Minute at which the last work that a clean-down follows has ended.</summary>
    public static int LastWorkEnd(CompactProblem compact, PartialSchedule schedule, int zone, int night)
    {
        var last = -Problem.Never;
        foreach (var activity in compact.StintsByZone[zone])
            if (schedule.Night[activity] == night && !compact.Activities[activity].IsFinal) last = Math.Max(last, schedule.EndMinute[activity]);
        return last;
    }
}
