using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// A plan in the making: where each job lies and who does it, each person's shift by night, and what is taken of time, room
/// and equipment. Flat arrays, so that keeping one and going back to it is a copy of some tens of kilobytes.
/// </summary>
internal sealed class PartialSchedule
{
    private readonly CompactProblem compact;
    private readonly ushort[] equipment, zonePeople, activitiesByNight, zoneClosed;

    public PartialSchedule(CompactProblem compact)
    {
        this.compact = compact;
        var jobs = compact.Activities.Length;
        var personNights = compact.People * compact.Nights;
        (Night, StartSlot, EndSlot) = (Filled(jobs), Filled(jobs), Filled(jobs));
        (StartMinute, EndMinute, Mode) = (Filled(jobs), Filled(jobs), Filled(jobs));
        Assigned = new byte[jobs * compact.MaxPeoplePerActivity];
        AssignedCount = new byte[jobs];
        Busy = new ulong[personNights * compact.WordsPerNight];
        (ShiftFrom, ShiftTo) = (Filled(personNights), Filled(personNights));
        Keyholder = Filled(compact.Nights);
        CleanDownDemand = new ushort[compact.Zones * compact.Nights];
        Choice = new int[compact.DisplayDecisions.Length];
        PaidMinutes = new int[compact.People];
        ShiftCount = new int[compact.People];
        equipment = new ushort[compact.Problem.EquipmentCapacities.Count * compact.Nights * compact.PaddedSlotCount];
        zonePeople = new ushort[compact.Zones * compact.Nights * compact.PaddedSlotCount];
        zoneClosed = compact.Activities.Any(activity => activity.ZoneClosedMinutes > 0) ? new ushort[zonePeople.Length] : [];
        activitiesByNight = new ushort[compact.Nights * compact.PaddedSlotCount];

        static int[] Filled(int length)
        {
            var filled = new int[length];
            Array.Fill(filled, -1);
            return filled;
        }
    }

    /// <summary>By job: its night, -1 while it is not placed; its slots there, and its minutes.</summary>
    public int[] Night { get; }

    public int[] StartSlot { get; }
    public int[] EndSlot { get; }
    public int[] StartMinute { get; }
    public int[] EndMinute { get; }

    /// <summary>By job: index among its manners; -1 for begun work.</summary>
    public int[] Mode { get; }

    /// <summary>By job: who is there, in the order of its manner's seats.</summary>
    public byte[] Assigned { get; }

    public byte[] AssignedCount { get; }

    /// <summary>By person and night: slots at work.</summary>
    public ulong[] Busy { get; }

    /// <summary>By person and night (person first), in slots; -1: no shift.</summary>
    public int[] ShiftFrom { get; }

    public int[] ShiftTo { get; }
    public int[] Keyholder { get; }

    /// <summary>By zone and night: how many jobs call for its clean-down.</summary>
    public ushort[] CleanDownDemand { get; }

    /// <summary>By option: the choice taken.</summary>
    public int[] Choice { get; }

    /// <summary>By person: paid minutes of the shifts as they stand.</summary>
    public int[] PaidMinutes { get; }

    public int[] ShiftCount { get; }

    /// <summary>Nights that changed since they were last rostered, a bit each.</summary>
    public uint ChangedNights { get; set; }

    public void CopyFrom(PartialSchedule other)
    {
        Copy(other.Night, Night); Copy(other.StartSlot, StartSlot); Copy(other.EndSlot, EndSlot); Copy(other.StartMinute, StartMinute); Copy(other.EndMinute, EndMinute);
        Copy(other.Mode, Mode); Copy(other.Assigned, Assigned); Copy(other.AssignedCount, AssignedCount); Copy(other.Busy, Busy);
        Copy(other.ShiftFrom, ShiftFrom); Copy(other.ShiftTo, ShiftTo); Copy(other.Keyholder, Keyholder);
        Copy(other.CleanDownDemand, CleanDownDemand);
        Copy(other.Choice, Choice); Copy(other.PaidMinutes, PaidMinutes); Copy(other.ShiftCount, ShiftCount); Copy(other.equipment, equipment);
        Copy(other.zonePeople, zonePeople); Copy(other.activitiesByNight, activitiesByNight);
        Copy(other.zoneClosed, zoneClosed);
        ChangedNights = other.ChangedNights;

        static void Copy<T>(T[] from, T[] to) => from.AsSpan().CopyTo(to);
    }

    public Span<ulong> BusyRow(int person, int night) => Busy.AsSpan(compact.RowOffset(person, night), compact.WordsPerNight);
    public ReadOnlySpan<byte> PeopleOf(int activity) => Assigned.AsSpan(activity * compact.MaxPeoplePerActivity, AssignedCount[activity]);
    public ReadOnlySpan<ushort> EquipmentRow(int kind, int night) => Row(equipment, kind, night);
    public ReadOnlySpan<ushort> ZonePeopleRow(int zone, int night) => Row(zonePeople, zone, night);
    public ReadOnlySpan<ushort> ZoneClosedRow(int zone, int night) => zoneClosed.Length == 0 ? [] : Row(zoneClosed, zone, night);

    /// <summary>First slot of the night with work and the one after its last; (-1, -1) where there is none.</summary>
    public (int From, int To) WorkSpan(int night)
    {
        Span<ulong> set = stackalloc ulong[compact.WordsPerNight];
        set.Clear();
        SlotSet.AddWhereAbove(activitiesByNight.AsSpan(night * compact.PaddedSlotCount, compact.PaddedSlotCount), 0, set);
        var first = SlotSet.First(set);
        return first < 0 ? (-1, -1) : (first, SlotSet.Last(set) + 1);
    }

    public void Insert(int activity, int mode, int night, int startSlot, ReadOnlySpan<byte> people)
    {
        var way = compact.Activities[activity].Modes[mode];
        var from = compact.MinuteAt(night, startSlot);
        Insert(activity, mode, night, startSlot, startSlot + way.DurationSlots, from, from + way.DurationMinutes, people, way.Equipment);
    }

    /// <summary>Begun work: where it is, slots it is in part of taken whole.</summary>
    public void InsertBegun(int activity, ScheduledWork work, IReadOnlyList<EquipmentDemand> equipmentUse)
    {
        Span<byte> hands = stackalloc byte[work.Assignments.Count];
        for (var hand = 0; hand < hands.Length; hand++) hands[hand] = (byte)work.Assignments[hand].Person;
        var most = compact.SlotCounts[work.Night];
        var start = Math.Clamp(compact.SlotAtOrBefore(work.Night, work.From), 0, most);
        var end = Math.Clamp(compact.SlotAtOrAfter(work.Night, work.To), start, most);
        Insert(activity, -1, work.Night, start, end, work.From, work.To, hands, equipmentUse);
    }

    public void Remove(int activity)
    {
        CountUsage(activity, Night[activity], StartSlot[activity], EndSlot[activity], compact.Activities[activity].Modes[Mode[activity]].Equipment, add: false);
        Night[activity] = -1;
    }

    private void Insert(int activity, int mode, int night, int startSlot, int endSlot, int startMinute, int endMinute, ReadOnlySpan<byte> people,
        IReadOnlyList<EquipmentDemand> equipmentUse)
    {
        (Night[activity], StartSlot[activity], EndSlot[activity], StartMinute[activity], EndMinute[activity], Mode[activity]) = (night, startSlot, endSlot, startMinute, endMinute, mode);
        people.CopyTo(Assigned.AsSpan(activity * compact.MaxPeoplePerActivity));
        AssignedCount[activity] = (byte)people.Length;
        CountUsage(activity, night, startSlot, endSlot, equipmentUse, add: true);
    }

    private void CountUsage(int activity, int night, int startSlot, int endSlot, IReadOnlyList<EquipmentDemand> equipmentUse, bool add)
    {
        var what = compact.Activities[activity];
        foreach (var person in PeopleOf(activity))
            if (add) SlotSet.Add(BusyRow(person, night), startSlot, endSlot);
            else SlotSet.Remove(BusyRow(person, night), startSlot, endSlot);
        for (var piece = 0; piece < equipmentUse.Count; piece++)
            AddToCounts(equipment, equipmentUse[piece].Equipment, night, startSlot, endSlot, add ? equipmentUse[piece].Count : -equipmentUse[piece].Count);
        if (AssignedCount[activity] > 0) AddToCounts(zonePeople, what.Zone, night, startSlot, endSlot, add ? AssignedCount[activity] : -AssignedCount[activity]);
        AddToCounts(activitiesByNight, 0, night, startSlot, endSlot, add ? 1 : -1);
        if (what.ZoneClosedMinutes > 0) CountZoneClosure(what, EndMinute[activity], add);
        if (what.CleanDownNight < 0 && !what.IsFinal)
        {
            if (add) CleanDownDemand[what.Zone * compact.Nights + night]++;
            else CleanDownDemand[what.Zone * compact.Nights + night]--;
        }
        ChangedNights |= 1u << night;
    }

    private void CountZoneClosure(CompactActivity activity, int minute, bool add)
    {
        for (var night = 0; night < compact.Nights; night++)
        {
            var (from, to) = ClosedSlots(night, minute, activity.ZoneClosedMinutes);
            if (from < to) AddToCounts(zoneClosed, activity.Zone, night, from, to, add ? 1 : -1);
        }
    }

    /// <summary>Slots of a night that lie, if only in part, in the time after work that shuts its zone.</summary>
    public (int From, int To) ClosedSlots(int night, int minute, int minutes) => (
        Math.Max(0, minute <= compact.Opens[night] ? 0 : (minute - compact.Opens[night]) / compact.SlotMinutes),
        Math.Min(compact.SlotCounts[night], compact.SlotAtOrAfter(night, minute + minutes)));

    private void AddToCounts(ushort[] counts, int resource, int night, int from, int to, int by)
    {
        var row = counts.AsSpan((resource * compact.Nights + night) * compact.PaddedSlotCount + from, to - from);
        for (var slot = 0; slot < row.Length; slot++) row[slot] = (ushort)(row[slot] + by);
    }

    private ReadOnlySpan<ushort> Row(ushort[] counts, int resource, int night) =>
        counts.AsSpan((resource * compact.Nights + night) * compact.PaddedSlotCount, compact.PaddedSlotCount);
}
