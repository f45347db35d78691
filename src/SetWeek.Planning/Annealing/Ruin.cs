using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Takes some jobs out of a plan that have to do with each other, so that putting them back can change something.
/// </summary>
internal sealed partial class Ruin(Image image, Placer placer, Chance chance)
{
    /// <summary>Shares of ruins in which what mostly stays is put back too.</summary>
    private const double FinalsToo = 0.25, CleanDownsToo = 0.3;

    private readonly List<int> taken = [];
    private readonly bool[] isTaken = new bool[image.Jobs.Length];
    private readonly HashSet<int> zoneNights = [];
    private readonly int[] placed = new int[image.Stints];
    private Draft draft = null!;
    private int wanted;

    /// <summary>Stints taken out by the last <see cref="Take"/>.</summary>
    public IReadOnlyList<int> Taken => taken;

    /// <summary>
    /// Takes about so many stints out. The final task stays where it can, and a clean-down where its zone stays dirty: both are
    /// mostly put back where they were, at some cost.
    /// </summary>
    public void Take(Draft from, int about)
    {
        if (!Begin(from, about, out var count)) return;
        if (chance.Happens(FinalsToo)) LiftFinals();
        TakeSome(placed.AsSpan(0, count));
        if (FinalNightTouched) LiftFinals();
        CleanDowns(chance.Happens(CleanDownsToo));
    }

    /// <summary>
    /// Makes room for a stint that has found none: what is in its way at some place where it could be otherwise.
    /// </summary>
    /// <param name="from">What it has found no room in.</param>
    /// <param name="missing">The stint.</param>
    /// <param name="between">Room is made between what comes before it and what comes after it, where there is any.</param>
    public void MakeRoom(Draft from, int missing, bool between = false)
    {
        if (!Begin(from, 0, out _)) return;
        LiftFinals();
        var job = image.Jobs[missing];
        var manner = job.Manners.Length == 0 ? null : job.Manners[chance.Below(job.Manners.Length)];
        var (night, start) = !between || manner is null ? (-1, -1) : PickStart(manner, Window.Of(image, draft, missing));
        if (night < 0)
        {
            foreach (var tie in job.After) LiftFollowing(tie.Job);
            if (manner is not null) (night, start) = PickStart(manner, Window.Of(image, draft, missing));
        }
        if (manner is null || night < 0)
        {
            CleanDowns(again: true);
            return;
        }
        var slack = chance.Below(6);
        for (var other = 0; other < image.Stints; other++)
        {
            if (draft.Night[other] != night || image.Jobs[other].Fixed || draft.End[other] <= start - slack
                || draft.Start[other] >= start + manner.Slots + slack)
                continue;
            if (chance.Happens(0.85) && InTheWay(manner, job, other)) Lift(other);
        }
        CleanDowns(again: true);
    }

    private (int Night, int Start) PickStart(Manner manner, Window window)
    {
        var (picked, seen) = ((-1, -1), 0);
        for (var night = 0; night < image.Nights; night++)
        {
            var starts = manner.Starts.AsSpan(night * image.Words, image.Words);
            for (var slot = Slots.First(starts); slot >= 0; slot = slot + 1 < image.Width ? Slots.First(starts, slot + 1) : -1)
            {
                var minute = image.Minute(night, slot);
                if (minute >= window.Earliest && minute + manner.Minutes <= window.Latest
                    && chance.Below(++seen) == 0)
                    picked = (night, slot);
            }
        }
        return picked;
    }

    private bool InTheWay(Manner manner, Job job, int other)
    {
        foreach (var person in draft.HandsOf(other)) if ((manner.Eligible & 1UL << person) != 0) return true;
        if (image.Jobs[other].Zone == job.Zone) return true;
        return image.Jobs[other].Manners[draft.Manner[other]].Equipment.Any(piece =>
            manner.Equipment.Any(own => own.Equipment == piece.Equipment));
    }

    private void LiftFollowing(int job)
    {
        if (!Movable(job)) return;
        Lift(job);
        foreach (var tie in image.Jobs[job].After) LiftFollowing(tie.Job);
    }

    private bool Begin(Draft from, int about, out int count)
    {
        (draft, wanted) = (from, about);
        taken.Clear();
        zoneNights.Clear();
        Array.Clear(isTaken);
        Array.Clear(placer.KeptOff);
        count = 0;
        for (var job = 0; job < image.Stints; job++)
            if (Movable(job)) placed[count++] = job;
        return count > 0;
    }

    private void LiftFinals()
    {
        foreach (var final in image.Finals) if (draft.Night[final] >= 0) draft.Lift(final);
    }

    private bool FinalNightTouched =>
        image.Finals is [var final, ..] && draft.Night[final] is >= 0 and var night && (draft.Touched & 1u << night) != 0;

    private bool Movable(int job) => draft.Night[job] >= 0 && image.Jobs[job] is { Fixed: false, Final: false };

    /// <summary>Those of zones that are clean now go; others are put back where they fit best, or left as they are.</summary>
    private void CleanDowns(bool again)
    {
        foreach (var zoneNight in zoneNights)
        {
            var (zone, night) = (zoneNight / image.Nights, zoneNight % image.Nights);
            var cleanDown = image.CleanDown(zone, night);
            if (draft.Night[cleanDown] < 0 || image.Jobs[cleanDown].Fixed) continue;
            if (!again && draft.Soiled[zoneNight] > 0) continue;
            draft.Lift(cleanDown);
            placer.CleanDownAfter(draft, zone, night);
        }
    }

    private void Lift(int job)
    {
        foreach (var member in image.Jobs[job].Group)
        {
            if (isTaken[member] || draft.Night[member] < 0) continue;
            isTaken[member] = true;
            taken.Add(member);
            zoneNights.Add(image.Jobs[member].Zone * image.Nights + draft.Night[member]);
            draft.Lift(member);
        }
    }
}
