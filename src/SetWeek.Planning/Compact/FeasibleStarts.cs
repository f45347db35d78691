using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Where a job fits into a night as the draft stands: room, equipment, shut zones, and enough people free at once.
/// </summary>
internal sealed class FeasibleStarts(CompactProblem compact)
{
    private readonly ulong[] starts = new ulong[compact.WordsPerNight];
    private readonly ulong[] blocked = new ulong[compact.WordsPerNight];
    private readonly ulong[] runEnds = new ulong[compact.WordsPerNight];
    private readonly ulong[] freeByPerson = new ulong[compact.People * compact.WordsPerNight];
    private readonly ulong[] freeByCount = new ulong[(compact.MaxPeoplePerActivity + 1) * compact.WordsPerNight];

    /// <summary>Slots at which the job may start; filled by <see cref="Find"/>.</summary>
    public ReadOnlySpan<ulong> Starts => starts;

    /// <summary>Are there any, between a minute and one by which it has ended?</summary>
    public bool Find(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night, TimeWindow window, ReadOnlySpan<ulong> excluded)
    {
        mode.PossibleStarts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight).CopyTo(starts);
        var latest = Math.Min(compact.SlotAtOrBefore(night, window.LatestEnd), compact.SlotCounts[night] - activity.SameNightTail) - mode.DurationSlots;
        var earliest = compact.SlotAtOrAfter(night, window.EarliestStart);
        if (latest < earliest) return false;
        SlotSet.KeepBetween(starts, earliest, latest + 1);
        if (IsEmpty()) return false;
        Array.Clear(blocked);
        var most = compact.Problem.Zones[activity.Zone].MaxPeople;
        if (mode.Requirements.Length > 0
            && most < Problem.Never)
            SlotSet.AddWhereAbove(schedule.ZonePeopleRow(activity.Zone, night), most - mode.Requirements.Length, blocked);
        if (schedule.ZoneClosedRow(activity.Zone, night) is { Length: > 0 } shut) SlotSet.AddWhereAbove(shut, 0, blocked);
        for (var piece = 0; piece < mode.Equipment.Count; piece++)
            SlotSet.AddWhereAbove(schedule.EquipmentRow(mode.Equipment[piece].Equipment, night),
                compact.Problem.EquipmentCapacities[mode.Equipment[piece].Equipment] - mode.Equipment[piece].Count, blocked);
        SlotSet.DilateDown(blocked, mode.DurationSlots);
        for (var word = 0; word < starts.Length; word++) starts[word] &= ~blocked[word];
        return !IsEmpty() && (mode.Requirements.Length == 0 || KeepStaffed(schedule, mode, night, excluded[night]))
            && (activity.ZoneClosedMinutes == 0 || KeepOpenZone(schedule, activity, mode, night));
    }

    /// <summary>Who of a manner's people is free for it from a slot on, a bit each.</summary>
    public ulong FreeAt(CompactMode mode, int slot)
    {
        var free = 0UL;
        for (var left = mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (SlotSet.Contains(freeByPerson.AsSpan(person * compact.WordsPerNight, compact.WordsPerNight), slot)) free |= 1UL << person;
        }
        return free;
    }

    /// <summary>
    /// Keeps the starts at which something begins or ends to fit: the ones between are never cheaper than both.
    /// </summary>
    /// <param name="mode">The way that <see cref="Find"/> was asked for.</param>
    /// <param name="preferred">A start that is kept too, where it fits; -1: none.</param>
    public void KeepRunEnds(CompactMode mode, int preferred)
    {
        Array.Clear(runEnds);
        if (preferred >= 0) SlotSet.Add(runEnds, preferred, preferred + 1);
        SlotSet.AddRunEnds(starts, runEnds);
        for (var left = mode.Eligible; left != 0; left &= left - 1)
            SlotSet.AddRunEnds(freeByPerson.AsSpan(BitOperations.TrailingZeroCount(left) * compact.WordsPerNight, compact.WordsPerNight), runEnds);
        for (var word = 0; word < starts.Length; word++) starts[word] &= runEnds[word];
    }

    private bool KeepStaffed(PartialSchedule schedule, CompactMode mode, int night, ulong excluded)
    {
        Array.Clear(freeByCount);
        var words = compact.WordsPerNight;
        for (var left = mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            var free = freeByPerson.AsSpan(person * words, words);
            free.Clear();
            if ((excluded & 1UL << person) != 0) continue;
            var present = compact.FeasibleShifts.PossiblePresence.AsSpan(compact.RowOffset(person, night), words);
            var busy = schedule.BusyRow(person, night);
            for (var word = 0; word < words; word++) free[word] = ~present[word] | busy[word];
            SlotSet.DilateDown(free, mode.DurationSlots);
            for (var word = 0; word < words; word++)
            {
                free[word] = starts[word] & ~free[word];
                for (var count = mode.Requirements.Length; count > 1; count--)
                    freeByCount[count * words + word] |= freeByCount[(count - 1) * words + word] & free[word];
                freeByCount[words + word] |= free[word];
            }
        }
        freeByCount.AsSpan(mode.Requirements.Length * words, words).CopyTo(starts);
        for (var left = mode.Eligible; left != 0; left &= left - 1)
        {
            var free = freeByPerson.AsSpan(BitOperations.TrailingZeroCount(left) * words, words);
            for (var word = 0; word < words; word++) free[word] &= starts[word];
        }
        return !IsEmpty();
    }

    /// <summary>
    /// Work that shuts its zone starts only where nothing but the night's clean-down, which can wait, follows in that time.
    /// </summary>
    private bool KeepOpenZone(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night)
    {
        for (var slot = SlotSet.First(starts); slot >= 0; slot = slot + 1 < compact.PaddedSlotCount ? SlotSet.First(starts, slot + 1) : -1)
        {
            var (from, to) = (compact.MinuteAt(night, slot) + mode.DurationMinutes, compact.MinuteAt(night, slot) + mode.DurationMinutes + activity.ZoneClosedMinutes);
            foreach (var other in compact.StintsByZone[activity.Zone])
                if (other != activity.Index && schedule.Night[other] >= 0 && schedule.StartMinute[other] < to
                    && schedule.EndMinute[other] > from)
                    SlotSet.Remove(starts, slot, slot + 1);
            for (var later = night + 1; later < compact.Nights && compact.Opens[later] < to; later++)
                if (schedule.Night[compact.CleanDownIndex(activity.Zone, later)] >= 0
                    && schedule.StartMinute[compact.CleanDownIndex(activity.Zone, later)] < to)
                    SlotSet.Remove(starts, slot, slot + 1);
        }
        return !IsEmpty();
    }

    private bool IsEmpty()
    {
        foreach (var word in starts) if (word != 0) return false;
        return true;
    }
}
