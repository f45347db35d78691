using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// A schedule under construction: place and people of each activity, each person's shift by night, and the use of people, zones
/// and equipment by slot. Flat arrays make a copy cheap: some tens of kilobytes.
/// </summary>
internal sealed class PartialSchedule
{
    private readonly CompactProblem compact;
    private readonly ushort[] equipment, zonePeople, activitiesByNight, zoneClosed;

    /// <summary>By person, night and slot: the zone, in the first and the last slot of each activity.</summary>
    private readonly byte[] zonesAtEnds;

    public PartialSchedule(CompactProblem compact)
    {
        this.compact = compact;
        var activities = compact.Activities.Length;
        var personNights = compact.People * compact.Nights;
        (Night, StartSlot, EndSlot) = (Filled(activities), Filled(activities), Filled(activities));
        (StartMinute, EndMinute, Mode) = (Filled(activities), Filled(activities), Filled(activities));
        Assigned = new byte[activities * compact.MaxPeoplePerActivity];
        AssignedCount = new byte[activities];
        Pieces = new byte[personNights];
        Busy = new ulong[personNights * compact.WordsPerNight];
        zonesAtEnds = new byte[personNights * compact.PaddedSlotCount];
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

    /// <summary>By activity: its night; -1: not placed. The arrays below are meaningful for placed activities only.</summary>
    public int[] Night { get; }

    public int[] StartSlot { get; }
    public int[] EndSlot { get; }
    public int[] StartMinute { get; }
    public int[] EndMinute { get; }

    /// <summary>By activity: index of its mode in <see cref="CompactActivity.Modes"/>; -1 for begun work.</summary>
    public int[] Mode { get; }

    /// <summary>By activity: a row of people, in the order of the mode's requirements.</summary>
    public byte[] Assigned { get; }

    public byte[] AssignedCount { get; }

    /// <summary>By person and night: bit set of the slots at work.</summary>
    public ulong[] Busy { get; }

    /// <summary>By person and night: number of pieces of work, begun ones not counted.</summary>
    public byte[] Pieces { get; }

    /// <summary>By person and night: first slot of the shift; -1: no shift.</summary>
    public int[] ShiftFrom { get; }

    /// <summary>By person and night: slot after the last of the shift; -1: no shift.</summary>
    public int[] ShiftTo { get; }

    /// <summary>By night: the keyholder; -1: none.</summary>
    public int[] Keyholder { get; }

    /// <summary>By zone and night: number of stints that need the clean-down.</summary>
    public ushort[] CleanDownDemand { get; }

    /// <summary>By display decision: the choice.</summary>
    public int[] Choice { get; }

    /// <summary>By person: paid minutes of the present shifts.</summary>
    public int[] PaidMinutes { get; }

    public int[] ShiftCount { get; }

    /// <summary>Nights that changed since they were last rostered, a bit each.</summary>
    public uint ChangedNights { get; set; }

    public void CopyFrom(PartialSchedule other)
    {
        Copy(other.Night, Night); Copy(other.StartSlot, StartSlot); Copy(other.EndSlot, EndSlot);
        Copy(other.StartMinute, StartMinute); Copy(other.EndMinute, EndMinute);
        Copy(other.Mode, Mode); Copy(other.Assigned, Assigned); Copy(other.AssignedCount, AssignedCount);
        Copy(other.Busy, Busy); Copy(other.Pieces, Pieces);
        Copy(other.ShiftFrom, ShiftFrom); Copy(other.ShiftTo, ShiftTo); Copy(other.Keyholder, Keyholder);
        Copy(other.CleanDownDemand, CleanDownDemand);
        Copy(other.Choice, Choice); Copy(other.PaidMinutes, PaidMinutes); Copy(other.ShiftCount, ShiftCount);
        Copy(other.equipment, equipment); Copy(other.zonePeople, zonePeople); Copy(other.activitiesByNight, activitiesByNight);
        Copy(other.zoneClosed, zoneClosed); Copy(other.zonesAtEnds, zonesAtEnds);
        ChangedNights = other.ChangedNights;

        static void Copy<T>(T[] from, T[] to) => from.AsSpan().CopyTo(to);
    }

    public Span<ulong> BusyRow(int person, int night) => Busy.AsSpan(compact.RowOffset(person, night), compact.WordsPerNight);

    public ReadOnlySpan<byte> PeopleOf(int activity) =>
        Assigned.AsSpan(activity * compact.MaxPeoplePerActivity, AssignedCount[activity]);

    /// <summary>Units of the equipment in use, by slot.</summary>
    public ReadOnlySpan<ushort> EquipmentRow(int kind, int night) => Row(equipment, kind, night);

    /// <summary>People at work in the zone, by slot.</summary>
    public ReadOnlySpan<ushort> ZonePeopleRow(int zone, int night) => Row(zonePeople, zone, night);

    /// <summary>Activities that close the zone, by slot; empty if no activity of the problem closes a zone.</summary>
    public ReadOnlySpan<ushort> ZoneClosedRow(int zone, int night) =>
        zoneClosed.Length == 0 ? [] : Row(zoneClosed, zone, night);

    /// <summary>First slot of the night with an activity, and the slot after the last one; (-1, -1) if there is none.</summary>
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
        var compactMode = compact.Activities[activity].Modes[mode];
        var from = compact.MinuteAt(night, startSlot);
        Insert(activity, mode, night, startSlot, startSlot + compactMode.DurationSlots, from, from + compactMode.DurationMinutes,
            people, compactMode.Equipment);
    }

    /// <summary>Inserts begun work at its place; it uses each slot that it covers in part.</summary>
    public void InsertBegun(int activity, ScheduledWork work, IReadOnlyList<EquipmentDemand> equipmentUse)
    {
        Span<byte> people = stackalloc byte[work.Assignments.Count];
        for (var index = 0; index < people.Length; index++) people[index] = (byte)work.Assignments[index].Person;
        var slotCount = compact.SlotCounts[work.Night];
        var start = Math.Clamp(compact.SlotAtOrBefore(work.Night, work.From), 0, slotCount);
        var end = Math.Clamp(compact.SlotAtOrAfter(work.Night, work.To), start, slotCount);
        Insert(activity, -1, work.Night, start, end, work.From, work.To, people, equipmentUse);
    }

    /// <summary>Removes a placed activity that has not begun.</summary>
    public void Remove(int activity)
    {
        CountUsage(activity, Night[activity], StartSlot[activity], EndSlot[activity],
            compact.Activities[activity].Modes[Mode[activity]].Equipment, add: false);
        Night[activity] = -1;
    }

    private void Insert(int activity, int mode, int night, int startSlot, int endSlot, int startMinute, int endMinute,
        ReadOnlySpan<byte> people, IReadOnlyList<EquipmentDemand> equipmentUse)
    {
        (Night[activity], Mode[activity]) = (night, mode);
        (StartSlot[activity], EndSlot[activity]) = (startSlot, endSlot);
        (StartMinute[activity], EndMinute[activity]) = (startMinute, endMinute);
        people.CopyTo(Assigned.AsSpan(activity * compact.MaxPeoplePerActivity));
        AssignedCount[activity] = (byte)people.Length;
        CountUsage(activity, night, startSlot, endSlot, equipmentUse, add: true);
    }

    /// <summary>Adds or subtracts the activity's use of people, equipment and zones.</summary>
    private void CountUsage(
        int activity, int night, int startSlot, int endSlot, IReadOnlyList<EquipmentDemand> equipmentUse, bool add)
    {
        var compactActivity = compact.Activities[activity];
        var sign = add ? 1 : -1;
        foreach (var person in PeopleOf(activity))
        {
            if (add) SlotSet.Add(BusyRow(person, night), startSlot, endSlot);
            else SlotSet.Remove(BusyRow(person, night), startSlot, endSlot);
            if (add && startSlot < endSlot) SetZoneAtEnds(person, night, startSlot, endSlot, compactActivity.Zone);
            if (Mode[activity] >= 0)
            {
                ref var pieces = ref Pieces[person * compact.Nights + night];
                pieces = (byte)(pieces + sign);
            }
        }
        for (var index = 0; index < equipmentUse.Count; index++)
            AddToCounts(equipment, equipmentUse[index].Equipment, night, startSlot, endSlot, sign * equipmentUse[index].Count);
        if (AssignedCount[activity] > 0)
            AddToCounts(zonePeople, compactActivity.Zone, night, startSlot, endSlot, sign * AssignedCount[activity]);
        AddToCounts(activitiesByNight, 0, night, startSlot, endSlot, sign);
        if (compactActivity.ZoneClosedMinutes > 0) CountZoneClosure(compactActivity, EndMinute[activity], add);
        if (compactActivity.CleanDownNight < 0 && !compactActivity.IsFinal)
        {
            if (add) CleanDownDemand[compactActivity.Zone * compact.Nights + night]++;
            else CleanDownDemand[compactActivity.Zone * compact.Nights + night]--;
        }
        ChangedNights |= 1u << night;
    }

    /// <summary>
    /// Zone changes that work of a person in these slots adds to the goal moves: from the work before it, to the work after it,
    /// less the change between those two.
    /// </summary>
    public int AddedMoves(int person, int night, int startSlot, int endSlot, int zone)
    {
        var busy = BusyRow(person, night);
        var (before, after) = (SlotSet.LastBefore(busy, startSlot), SlotSet.First(busy, endSlot));
        var row = (person * compact.Nights + night) * compact.PaddedSlotCount;
        int zoneBefore = before < 0 ? zone : zonesAtEnds[row + before], zoneAfter = after < 0 ? zone : zonesAtEnds[row + after];
        return (zoneBefore != zone ? 1 : 0) + (zoneAfter != zone ? 1 : 0)
            - (before >= 0 && after >= 0 && zoneBefore != zoneAfter ? 1 : 0);
    }

    private void SetZoneAtEnds(int person, int night, int startSlot, int endSlot, int zone)
    {
        var row = zonesAtEnds.AsSpan((person * compact.Nights + night) * compact.PaddedSlotCount, compact.PaddedSlotCount);
        row[startSlot] = row[endSlot - 1] = (byte)zone;
    }

    /// <summary>Adds or subtracts the time in which the zone is closed after the activity's end.</summary>
    private void CountZoneClosure(CompactActivity activity, int endMinute, bool add)
    {
        for (var night = 0; night < compact.Nights; night++)
        {
            var (from, to) = ClosedSlots(night, endMinute, activity.ZoneClosedMinutes);
            if (from < to) AddToCounts(zoneClosed, activity.Zone, night, from, to, add ? 1 : -1);
        }
    }

    /// <summary>Slots of a night that lie, at least in part, in [minute, minute + minutes); empty if From >= To.</summary>
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
