namespace SetWeek.Planning.Compact;

/// <summary>By activity and night: the slots before which work must end there, at the night's end and at its first ban.</summary>
internal sealed class EndLimits
{
    private readonly CompactProblem compact;
    private readonly int[] workEnds, bans;

    public EndLimits(CompactProblem compact)
    {
        this.compact = compact;
        var count = compact.Activities.Length * compact.Nights;
        (workEnds, bans) = (new int[count], new int[count]);
        foreach (var activity in compact.Activities)
            for (var night = 0; night < compact.Nights; night++)
            {
                var at = activity.Index * compact.Nights + night;
                var cleanDown = activity.NeedsCleanDown ? compact.Problem.Zones[activity.Zone].CleanDown!.Minutes : 0;
                workEnds[at] = compact.LatestWorkEnd[night] - activity.SameNightTail
                    - (cleanDown + activity.ZoneClosedMinutes) / compact.SlotMinutes;
                bans[at] = FirstBan(activity, night);
            }
    }

    /// <summary>Minutes from the end of the activity to the next limit; below 0 where it is passed.</summary>
    public int MinutesBefore(CompactActivity activity, int night, int endSlot)
    {
        var at = activity.Index * compact.Nights + night;
        var limit = endSlot <= bans[at] ? Math.Min(bans[at], workEnds[at]) : workEnds[at];
        return (limit - endSlot) * compact.SlotMinutes;
    }

    private int FirstBan(CompactActivity activity, int night)
    {
        var first = int.MaxValue;
        if (activity.Task < 0) return first;
        foreach (var ban in compact.Problem.Nights[night].Bans)
            if (compact.Problem.Tasks[activity.Task].Traits.Contains(ban.Trait))
                first = Math.Min(first, Math.Max(0, (ban.Span.From - compact.Opens[night]) / compact.SlotMinutes));
        return first;
    }
}
