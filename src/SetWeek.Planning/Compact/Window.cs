using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Minutes between which a job may lie for what is placed before and after it.</summary>
internal readonly record struct Window(int Earliest, int Latest)
{
    public static Window Of(Image image, Draft draft, int index)
    {
        var job = image.Jobs[index];
        var (earliest, latest) = (job.Earliest, job.Latest);
        if (!job.Final)
            foreach (var final in image.Finals)
                if (draft.Night[final] >= 0) latest = Math.Min(latest, draft.From[final]);
        if (job.CleanDownNight >= 0) return new(Math.Max(earliest, LastWork(image, draft, job.Zone, job.CleanDownNight)), latest);
        foreach (var tie in job.Before)
            if (draft.Night[tie.Job] >= 0) earliest = Math.Max(earliest, draft.To[tie.Job] + tie.Lag);
        foreach (var tie in job.After)
            if (draft.Night[tie.Job] >= 0 && !image.Jobs[tie.Job].Fixed) latest = Math.Min(latest, draft.From[tie.Job] - tie.Lag);
        if (!job.Final) return new(earliest, latest);
        for (var other = 0; other < image.Jobs.Length; other++)
            if (draft.Night[other] >= 0 && !image.Jobs[other].Final) earliest = Math.Max(earliest, draft.To[other]);
        return new(earliest, latest);
    }

    /// <summary>Minute at which the last work that a clean-down follows has ended.</summary>
    public static int LastWork(Image image, Draft draft, int zone, int night)
    {
        var last = -Problem.Never;
        foreach (var job in image.InZone[zone])
            if (draft.Night[job] == night && !image.Jobs[job].Final) last = Math.Max(last, draft.To[job]);
        return last;
    }
}
