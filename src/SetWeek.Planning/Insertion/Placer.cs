using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Where of all places that fit: the first, the last, or the one that costs least.</summary>
internal enum Preference { Earliest, Latest, Cheapest }

/// <summary>
/// Places one job, or a group that lies in one night, into a draft so that it keeps every rule that can be kept before the
/// roster is settled; or leaves the draft as it was.
/// </summary>
internal sealed class Placer(Image image, PersonNight personNight, Chance chance)
{
    private const int Kept = 4;

    private readonly Gaps gaps = new(image);
    private readonly Crewing crewing = new(image, personNight);
    private readonly Keyholding keyholding = new(image, personNight);
    private readonly Undo undo = new(image);
    private readonly Draft beforeGroup = new(image);
    private readonly byte[] hands = new byte[image.MostHands];
    private readonly (double Price, int Manner, int Night, int Start)[] best = new (double, int, int, int)[Kept];
    private int found;

    public Tariff Tariff { get; set; } = new();
    public Preference Preference { get; set; }

    /// <summary>By night: people who get no work there for now.</summary>
    public ulong[] KeptOff => crewing.Kept;

    /// <summary>Starts looked at so far: what the search counts its effort in.</summary>
    public long Looked { get; private set; }

    /// <summary>Places a stint with those of its group that are not placed yet.</summary>
    public bool PlaceGroup(Draft draft, int job)
    {
        var group = image.Jobs[job].Group;
        if (group.Length == 1) return Place(draft, job, -1);
        var fixedNight = image.Jobs[job].GroupNight;
        foreach (var other in group) if (draft.Night[other] >= 0) fixedNight = draft.Night[other];
        if (fixedNight >= 0) return PlaceIn(draft, group, fixedNight);
        Look(draft, group[0], -1);
        Span<int> nights = stackalloc int[Kept];
        var count = 0;
        for (var at = 0; at < found; at++)
            if (!nights[..count].Contains(best[at].Night)) nights[count++] = best[at].Night;
        for (var at = 0; at < count; at++)
            if (PlaceIn(draft, group, nights[at])) return true;
        for (var night = 0; night < image.Nights; night++)
            if (!nights[..count].Contains(night) && PlaceIn(draft, group, night)) return true;
        return false;
    }

    /// <summary>Places a job; night -1: in any.</summary>
    public bool Place(Draft draft, int index, int night)
    {
        var job = image.Jobs[index];
        Look(draft, index, night);
        // Placing a clean-down looks too: the places found are kept aside for the next try.
        Span<(double Price, int Manner, int Night, int Start)> places = stackalloc (double, int, int, int)[found];
        best.AsSpan(0, found).CopyTo(places);
        foreach (var place in places)
        {
            var mark = undo.Mark;
            if (Commit(draft, index, place.Manner, place.Night, place.Start)
                && (!job.Soils || CleanDownAfter(draft, job.Zone, place.Night)))
            {
                if (job.CleanDownNight < 0) undo.Forget();
                return true;
            }
            if (draft.Night[index] >= 0) draft.Lift(index);
            undo.BackTo(draft, mark);
        }
        return false;
    }

    /// <summary>Sees to it that a zone worked in has its clean-down after that work, and one not worked in has none.</summary>
    public bool CleanDownAfter(Draft draft, int zone, int night)
    {
        var index = image.CleanDown(zone, night);
        var job = image.Jobs[index];
        if (job.Fixed || job.Manners.Length == 0) return true;
        var placed = draft.Night[index] >= 0;
        if (draft.Soiled[zone * image.Nights + night] == 0)
        {
            if (placed) draft.Lift(index);
            return true;
        }
        if (placed && draft.From[index] >= Window.LastWork(image, draft, zone, night) && !InShutTime(draft, index)) return true;
        if (!placed) return Place(draft, index, night);
        var (manner, start, count) = (draft.Manner[index], draft.Start[index], draft.HandCount[index]);
        Span<byte> hands = stackalloc byte[count];
        draft.HandsOf(index).CopyTo(hands);
        draft.Lift(index);
        if (Place(draft, index, night)) return true;
        draft.Put(index, manner, night, start, hands);
        return false;
    }

    private bool InShutTime(Draft draft, int index)
    {
        var shut = draft.ShutRow(image.Jobs[index].Zone, draft.Night[index]);
        for (var slot = draft.Start[index]; slot < draft.End[index] && shut.Length > 0; slot++)
            if (shut[slot] > 0) return true;
        return false;
    }

    private bool PlaceIn(Draft draft, int[] group, int night)
    {
        beforeGroup.CopyFrom(draft);
        foreach (var job in group)
            if (draft.Night[job] < 0 && !Place(draft, job, night))
            {
                draft.CopyFrom(beforeGroup);
                return false;
            }
        return true;
    }

    /// <summary>Collects the places preferred, best first.</summary>
    private void Look(Draft draft, int index, int onlyNight)
    {
        var job = image.Jobs[index];
        var window = Window.Of(image, draft, index);
        found = 0;
        for (var step = 0; step < image.Nights; step++)
        {
            var night = Preference == Preference.Latest ? image.Nights - 1 - step : step;
            if (onlyNight >= 0 && night != onlyNight || job.CleanDownNight >= 0 && job.CleanDownNight != night) continue;
            if (image.Minute(night, image.SlotCounts[night]) <= window.Earliest || image.Opens[night] >= window.Latest) continue;
            for (var manner = 0; manner < job.Manners.Length; manner++)
                if (gaps.Find(draft, job, job.Manners[manner], night, window, crewing.Kept)) Weigh(draft, job, manner, night);
            if (found > 0 && Preference != Preference.Cheapest) return;
        }
    }

    private void Weigh(Draft draft, Job job, int index, int night)
    {
        var manner = job.Manners[index];
        if (Preference == Preference.Cheapest) gaps.KeepEdges(manner, Published(job, night));
        var slot = Preference == Preference.Latest ? Slots.Last(gaps.Starts) : Slots.First(gaps.Starts);
        for (var tried = 0; slot >= 0; tried++)
        {
            Looked++;
            if (Price(draft, job, manner, night, slot) is { } price)
            {
                // Of the ways that start first, one that is done soon and takes few people's time.
                if (Preference == Preference.Earliest) price = slot + manner.Slots * Math.Max(1, manner.Seats.Length);
                if (Preference == Preference.Latest) price = -slot;
                Keep((price, index, night, slot));
                if (Preference != Preference.Cheapest) return;
            }
            slot = Preference == Preference.Latest ? LastBefore(slot) : FirstAfter(slot);
        }
    }

    /// <summary>The slot that the job was published at in that night; -1: none.</summary>
    private int Published(Job job, int night) =>
        (job.CleanDownNight < 0 ? image.Publication.Night(job.Index) : job.CleanDownNight) == night
            ? image.Publication.Start(job.Index) : -1;

    private int FirstAfter(int slot) => slot + 1 < image.Width ? Slots.First(gaps.Starts, slot + 1) : -1;

    private int LastBefore(int slot)
    {
        for (slot--; slot >= 0; slot--) if (Slots.Has(gaps.Starts, slot)) return slot;
        return -1;
    }

    private double? Price(Draft draft, Job job, Manner manner, int night, int slot)
    {
        if (keyholding.Price(draft, crewing, Tariff, night, slot, slot + manner.Slots) is not { } price) return null;
        if (manner.Seats.Length > 0)
        {
            if (crewing.Staff(draft, Tariff, job, manner, night, slot, gaps.FreeAt(manner, slot),
                hands) is not { } staff)
                return null;
            // Whoever opens the night may well be the one who works in it.
            price = draft.Keyholder[night] < 0 ? Math.Max(price, staff) : price + staff;
        }
        if (job.Soils && draft.Soiled[job.Zone * image.Nights + night] == 0
            && image.Problem.Zones[job.Zone].CleanDown is { } down)
            price += down.Minutes * down.People * image.MeanRate;
        if (image.Drain is { } drain)
        {
            var from = image.Minute(night, slot);
            price += Tariff.Beyond * drain.Beyond(job, from, from + manner.Minutes) * Math.Max(1, manner.Seats.Length);
        }
        price += Tariff.Delay * image.MeanRate * image.Grid * (image.SlotsBefore[night] + slot);
        if (Tariff.Stir > 0 && image.Publication.Start(job.Index) is >= 0 and var was
            && (was != slot || Published(job, night) < 0))
            price += Tariff.Stir;
        if (Tariff.Change > 0 && job.Task >= 0 && image.Publication.Night(job.Index) >= 0
            && image.Publication.Night(job.Index) != night)
            price += Tariff.Change;
        return Tariff.Noise > 0 ? price * (1 + Tariff.Noise * (2 * chance.Share() - 1)) : price;
    }

    private void Keep((double Price, int Manner, int Night, int Start) place)
    {
        if (found == Kept && best[Kept - 1].Price <= place.Price) return;
        var at = found < Kept ? found++ : Kept - 1;
        for (; at > 0 && best[at - 1].Price > place.Price; at--) best[at] = best[at - 1];
        best[at] = place;
    }

    private bool Commit(Draft draft, int index, int mannerIndex, int night, int start)
    {
        var job = image.Jobs[index];
        var manner = job.Manners[mannerIndex];
        if (manner.Seats.Length > 0)
        {
            var free = 0UL;
            for (var left = manner.Eligible & ~crewing.Kept[night]; left != 0; left &= left - 1)
            {
                var person = BitOperations.TrailingZeroCount(left);
                if (!Slots.Any(draft.BusyRow(person, night), start, start + manner.Slots)) free |= 1UL << person;
            }
            if (crewing.Staff(draft, Tariff, job, manner, night, start, free, hands) is null) return false;
        }
        var crew = hands.AsSpan(0, manner.Seats.Length);
        foreach (var person in crew)
        {
            if (crewing.Extended(draft, person, night, start, start + manner.Slots) is not { } shift) return false;
            undo.SetShift(draft, person, night, shift.From, shift.To);
        }
        draft.Put(index, mannerIndex, night, start, crew);
        return keyholding.Open(draft, undo, night, start, start + manner.Slots);
    }
}
