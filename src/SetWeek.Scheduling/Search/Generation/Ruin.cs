using System.Numerics;

namespace SetWeek.Scheduling.Search.Generation;

/// <summary>
/// Takes some jobs out of a plan that have to do with each other, so that putting them back can change something.
/// </summary>
internal sealed class Ruin(Image image, Placer placer, Chance chance)
{
    private readonly List<int> taken = [];
    private readonly bool[] isTaken = new bool[image.Jobs.Length];
    private readonly HashSet<int> zoneNights = [];
    private readonly int[] placed = new int[image.Stints];
    private Draft draft = null!;
    private int wanted;

    /// <summary>Stints taken out by the last <see cref="Take"/>.</summary>
    public IReadOnlyList<int> Taken => taken;

    /// <summary>Takes about so many stints out, with the final task; clean-downs of zones that stay dirty are put back.</summary>
    public void Take(Draft from, int about)
    {
        if (!Begin(from, about, out var count)) return;
        var seed = placed[chance.Below(count)];
        switch (chance.Below(12))
        {
            case 0 or 1: Scattered(count); break;
            case 2 or 3 or 4: PersonNight(seed); break;
            case 5 or 6: Around(seed); break;
            case 7 or 8: ZoneNight(seed); break;
            case 9: Display(seed); break;
            case 10: PersonTail(seed); break;
            default: TwoNights(seed, count); break;
        }
        CleanDowns();
    }

    /// <summary>
    /// Makes room for a stint that has found none: what is in its way at some place where it could be otherwise.
    /// </summary>
    public void MakeRoom(Draft from, int missing)
    {
        if (!Begin(from, 0, out _)) return;
        var job = image.Jobs[missing];
        foreach (var tie in job.After) LiftFollowing(tie.Job);
        var window = Window.Of(image, draft, missing);
        var manner = job.Manners.Length == 0 ? null : job.Manners[chance.Below(job.Manners.Length)];
        var (night, start) = manner is null ? (-1, -1) : PickStart(manner, window);
        if (manner is null || night < 0)
        {
            CleanDowns();
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
        CleanDowns();
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
        if (draft.Night[job] < 0 || image.Jobs[job].Fixed) return;
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
        foreach (var final in image.Finals) if (draft.Night[final] >= 0) draft.Lift(final);
        count = 0;
        for (var job = 0; job < image.Stints; job++)
            if (draft.Night[job] >= 0 && !image.Jobs[job].Fixed) placed[count++] = job;
        return count > 0;
    }

    private void CleanDowns()
    {
        foreach (var zoneNight in zoneNights)
        {
            var (zone, night) = (zoneNight / image.Nights, zoneNight % image.Nights);
            var cleanDown = image.CleanDown(zone, night);
            if (draft.Night[cleanDown] < 0 || image.Jobs[cleanDown].Fixed) continue;
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

    private void Scattered(int count)
    {
        for (var step = 0; step < wanted; step++) Lift(placed[chance.Below(count)]);
    }

    /// <summary>All that somebody does in a night; half the time they get nothing there this time.</summary>
    private void PersonNight(int seed)
    {
        var night = draft.Night[seed];
        var person = draft.HandCount[seed] > 0 ? draft.Hands[seed * image.MostHands + chance.Below(draft.HandCount[seed])] : -1;
        for (var job = 0; job < image.Stints; job++)
        {
            if (draft.Night[job] != night || isTaken[job] || image.Jobs[job].Fixed || image.Jobs[job].Final) continue;
            if (person < 0 ? job == seed : draft.HandsOf(job).Contains((byte)person)) Lift(job);
        }
        if (person >= 0 && chance.Happens(0.6)) placer.KeptOff[night] |= 1UL << person;
        Thin(seed, night);
    }

    /// <summary>A few more of the same night, by chance.</summary>
    private void Thin(int seed, int night)
    {
        for (var job = 0; job < image.Stints && taken.Count < wanted; job++)
            if (draft.Night[job] == night && !image.Jobs[job].Fixed && chance.Happens(0.25)) Lift(job);
    }

    /// <summary>What goes on about the same time.</summary>
    private void Around(int seed)
    {
        var (night, middle) = (draft.Night[seed], draft.Start[seed]);
        var reach = 4 + chance.Below(24);
        for (var job = 0; job < image.Stints && taken.Count < 2 * wanted; job++)
            if (draft.Night[job] == night && !image.Jobs[job].Fixed && draft.End[job] > middle - reach
                && draft.Start[job] < middle + reach)
                Lift(job);
    }

    /// <summary>All work of a zone in a night: without it there is no clean-down either.</summary>
    private void ZoneNight(int seed)
    {
        var (night, zone) = (draft.Night[seed], image.Jobs[seed].Zone);
        foreach (var job in image.InZone[zone])
            if (draft.Night[job] == night && !image.Jobs[job].Fixed && !image.Jobs[job].Final) Lift(job);
        Thin(seed, night);
    }

    private void Display(int seed)
    {
        var display = image.Jobs[seed].Display;
        for (var job = 0; job < image.Stints; job++)
            if (image.Jobs[job].Display == display && draft.Night[job] >= 0 && !image.Jobs[job].Fixed && !image.Jobs[job].Final
                && chance.Happens(0.8))
                Lift(job);
    }

    /// <summary>The end, or the beginning, of somebody's night.</summary>
    private void PersonTail(int seed)
    {
        if (draft.HandCount[seed] == 0) { Around(seed); return; }
        var (night, start) = (draft.Night[seed], draft.Start[seed]);
        var person = draft.Hands[seed * image.MostHands + chance.Below(draft.HandCount[seed])];
        var tail = chance.Happens(0.6);
        for (var job = 0; job < image.Stints; job++)
        {
            if (draft.Night[job] != night || image.Jobs[job].Fixed || !draft.HandsOf(job).Contains(person)) continue;
            if (tail ? draft.Start[job] >= start : draft.Start[job] <= start) Lift(job);
        }
        Thin(seed, night);
    }

    /// <summary>Some work of two nights at once, so that it can change places.</summary>
    private void TwoNights(int seed, int count)
    {
        var (one, other) = (draft.Night[seed], draft.Night[placed[chance.Below(count)]]);
        var share = wanted / (double)Math.Max(1, count) * image.Nights / 2;
        for (var job = 0; job < image.Stints; job++)
            if ((draft.Night[job] == one || draft.Night[job] == other) && !image.Jobs[job].Fixed
                && chance.Happens(share))
                Lift(job);
    }
}
