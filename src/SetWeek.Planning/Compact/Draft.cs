using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// A plan in the making: where each job lies and who does it, each person's shift by night, and what is taken of time, room
/// and equipment. Flat arrays, so that keeping one and going back to it is a copy of some tens of kilobytes.
/// </summary>
internal sealed class Draft
{
    private readonly Image image;
    private readonly ushort[] equipment, zonePeople, nightJobs, shut;

    public Draft(Image image)
    {
        this.image = image;
        var jobs = image.Jobs.Length;
        var personNights = image.People * image.Nights;
        (Night, Start, End) = (Filled(jobs), Filled(jobs), Filled(jobs));
        (From, To, Manner) = (Filled(jobs), Filled(jobs), Filled(jobs));
        Hands = new byte[jobs * image.MostHands];
        HandCount = new byte[jobs];
        Busy = new ulong[personNights * image.Words];
        (ShiftFrom, ShiftTo) = (Filled(personNights), Filled(personNights));
        Keyholder = Filled(image.Nights);
        Soiled = new ushort[image.Zones * image.Nights];
        Choice = new int[image.Options.Length];
        Paid = new int[image.People];
        ShiftCount = new int[image.People];
        equipment = new ushort[image.Problem.EquipmentCounts.Count * image.Nights * image.Width];
        zonePeople = new ushort[image.Zones * image.Nights * image.Width];
        shut = image.Jobs.Any(job => job.Shuts > 0) ? new ushort[zonePeople.Length] : [];
        nightJobs = new ushort[image.Nights * image.Width];

        static int[] Filled(int length)
        {
            var filled = new int[length];
            Array.Fill(filled, -1);
            return filled;
        }
    }

    /// <summary>By job: its night, -1 while it is not placed; its slots there, and its minutes.</summary>
    public int[] Night { get; }

    public int[] Start { get; }
    public int[] End { get; }
    public int[] From { get; }
    public int[] To { get; }

    /// <summary>By job: index among its manners; -1 for begun work.</summary>
    public int[] Manner { get; }

    /// <summary>By job: who is there, in the order of its manner's seats.</summary>
    public byte[] Hands { get; }

    public byte[] HandCount { get; }

    /// <summary>By person and night: slots at work.</summary>
    public ulong[] Busy { get; }

    /// <summary>By person and night (person first), in slots; -1: no shift.</summary>
    public int[] ShiftFrom { get; }

    public int[] ShiftTo { get; }
    public int[] Keyholder { get; }

    /// <summary>By zone and night: how many jobs call for its clean-down.</summary>
    public ushort[] Soiled { get; }

    /// <summary>By option: the choice taken.</summary>
    public int[] Choice { get; }

    /// <summary>By person: paid minutes of the shifts as they stand.</summary>
    public int[] Paid { get; }

    public int[] ShiftCount { get; }

    /// <summary>Nights that changed since they were last rostered, a bit each.</summary>
    public uint Touched { get; set; }

    public void CopyFrom(Draft other)
    {
        Copy(other.Night, Night); Copy(other.Start, Start); Copy(other.End, End); Copy(other.From, From); Copy(other.To, To);
        Copy(other.Manner, Manner); Copy(other.Hands, Hands); Copy(other.HandCount, HandCount); Copy(other.Busy, Busy);
        Copy(other.ShiftFrom, ShiftFrom); Copy(other.ShiftTo, ShiftTo); Copy(other.Keyholder, Keyholder);
        Copy(other.Soiled, Soiled);
        Copy(other.Choice, Choice); Copy(other.Paid, Paid); Copy(other.ShiftCount, ShiftCount); Copy(other.equipment, equipment);
        Copy(other.zonePeople, zonePeople); Copy(other.nightJobs, nightJobs);
        Copy(other.shut, shut);
        Touched = other.Touched;

        static void Copy<T>(T[] from, T[] to) => from.AsSpan().CopyTo(to);
    }

    public Span<ulong> BusyRow(int person, int night) => Busy.AsSpan(image.Row(person, night), image.Words);
    public ReadOnlySpan<byte> HandsOf(int job) => Hands.AsSpan(job * image.MostHands, HandCount[job]);
    public ReadOnlySpan<ushort> EquipmentRow(int piece, int night) => Row(equipment, piece, night);
    public ReadOnlySpan<ushort> PeopleRow(int zone, int night) => Row(zonePeople, zone, night);
    public ReadOnlySpan<ushort> ShutRow(int zone, int night) => shut.Length == 0 ? [] : Row(shut, zone, night);

    /// <summary>First slot of the night with work and the one after its last; (-1, -1) where there is none.</summary>
    public (int From, int To) WorkOf(int night)
    {
        Span<ulong> set = stackalloc ulong[image.Words];
        set.Clear();
        Slots.AddAbove(nightJobs.AsSpan(night * image.Width, image.Width), 0, set);
        var first = Slots.First(set);
        return first < 0 ? (-1, -1) : (first, Slots.Last(set) + 1);
    }

    public void Put(int job, int manner, int night, int start, ReadOnlySpan<byte> hands)
    {
        var way = image.Jobs[job].Manners[manner];
        var from = image.Minute(night, start);
        Put(job, manner, night, start, start + way.Slots, from, from + way.Minutes, hands, way.Equipment);
    }

    /// <summary>Begun work: where it is, slots it is in part of taken whole.</summary>
    public void PutBegun(int job, Work work, IReadOnlyList<Pieces> pieces)
    {
        Span<byte> hands = stackalloc byte[work.People.Count];
        for (var hand = 0; hand < hands.Length; hand++) hands[hand] = (byte)work.People[hand].Person;
        var most = image.SlotCounts[work.Night];
        var start = Math.Clamp(image.SlotAtOrBefore(work.Night, work.From), 0, most);
        var end = Math.Clamp(image.SlotAtOrAfter(work.Night, work.To), start, most);
        Put(job, -1, work.Night, start, end, work.From, work.To, hands, pieces);
    }

    public void Lift(int job)
    {
        Take(job, Night[job], Start[job], End[job], image.Jobs[job].Manners[Manner[job]].Equipment, taken: false);
        Night[job] = -1;
    }

    private void Put(int job, int manner, int night, int start, int end, int from, int to, ReadOnlySpan<byte> hands,
        IReadOnlyList<Pieces> pieces)
    {
        (Night[job], Start[job], End[job], From[job], To[job], Manner[job]) = (night, start, end, from, to, manner);
        hands.CopyTo(Hands.AsSpan(job * image.MostHands));
        HandCount[job] = (byte)hands.Length;
        Take(job, night, start, end, pieces, taken: true);
    }

    private void Take(int job, int night, int start, int end, IReadOnlyList<Pieces> pieces, bool taken)
    {
        var what = image.Jobs[job];
        foreach (var person in HandsOf(job))
            if (taken) Slots.Add(BusyRow(person, night), start, end);
            else Slots.Remove(BusyRow(person, night), start, end);
        for (var piece = 0; piece < pieces.Count; piece++)
            Count(equipment, pieces[piece].Equipment, night, start, end, taken ? pieces[piece].Count : -pieces[piece].Count);
        if (HandCount[job] > 0) Count(zonePeople, what.Zone, night, start, end, taken ? HandCount[job] : -HandCount[job]);
        Count(nightJobs, 0, night, start, end, taken ? 1 : -1);
        if (what.Shuts > 0) Shut(what, To[job], taken);
        if (what.CleanDownNight < 0 && !what.Final) Soiled[what.Zone * image.Nights + night] += (ushort)(taken ? 1 : 0);
        if (what.CleanDownNight < 0 && !what.Final && !taken) Soiled[what.Zone * image.Nights + night]--;
        Touched |= 1u << night;
    }

    private void Shut(Job job, int minute, bool taken)
    {
        for (var night = 0; night < image.Nights; night++)
        {
            var (from, to) = ShutSlots(night, minute, job.Shuts);
            if (from < to) Count(shut, job.Zone, night, from, to, taken ? 1 : -1);
        }
    }

    /// <summary>Slots of a night that lie, if only in part, in the time after work that shuts its zone.</summary>
    public (int From, int To) ShutSlots(int night, int minute, int minutes) => (
        Math.Max(0, minute <= image.Opens[night] ? 0 : (minute - image.Opens[night]) / image.Grid),
        Math.Min(image.SlotCounts[night], image.SlotAtOrAfter(night, minute + minutes)));

    private void Count(ushort[] counts, int what, int night, int from, int to, int by)
    {
        var row = counts.AsSpan((what * image.Nights + night) * image.Width + from, to - from);
        for (var slot = 0; slot < row.Length; slot++) row[slot] = (ushort)(row[slot] + by);
    }

    private ReadOnlySpan<ushort> Row(ushort[] counts, int what, int night) =>
        counts.AsSpan((what * image.Nights + night) * image.Width, image.Width);
}
