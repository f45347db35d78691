using System.Numerics;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Feasible starts of an activity in one night of a partial schedule, by time window, zone capacity, equipment, closed zones and
/// the number of free people.
/// </summary>
internal sealed class FeasibleStarts(CompactProblem compact)
{
    private readonly ulong[] starts = new ulong[compact.WordsPerNight];
    private readonly ulong[] blocked = new ulong[compact.WordsPerNight];
    private readonly ulong[] accompanied = new ulong[compact.WordsPerNight];
    private readonly ulong[] runEnds = new ulong[compact.WordsPerNight];
    private readonly ulong[] freeByPerson = new ulong[compact.People * compact.WordsPerNight];
    private readonly ulong[] freeByCount = new ulong[(compact.MaxPeoplePerActivity + 1) * compact.WordsPerNight];

    /// <summary>Slots at which the activity may start; filled by <see cref="Find"/>.</summary>
    public ReadOnlySpan<ulong> Starts => starts;

    /// <summary>Finds the feasible starts within a time window; true if there are any.</summary>
    /// <param name="schedule">The partial schedule.</param>
    /// <param name="activity">The activity.</param>
    /// <param name="mode">Its mode.</param>
    /// <param name="night">The night.</param>
    /// <param name="window">The activity's time window.</param>
    /// <param name="excluded">By night: people who get no work there, a bit each.</param>
    /// <param name="withCompany">True: only starts at which the zone has the company that the mode needs.</param>
    public bool Find(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night, TimeWindow window,
        ReadOnlySpan<ulong> excluded, bool withCompany = false)
    {
        mode.PossibleStarts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight).CopyTo(starts);
        var latestEnd = Math.Min(
            compact.SlotAtOrBefore(night, window.LatestEnd), compact.SlotCounts[night] - activity.SameNightTail);
        var latest = latestEnd - mode.DurationSlots;
        var earliest = compact.SlotAtOrAfter(night, window.EarliestStart);
        if (latest < earliest) return false;
        SlotSet.KeepBetween(starts, earliest, latest + 1);
        if (IsEmpty()) return false;
        Array.Clear(blocked);
        var maxPeople = compact.Problem.Zones[activity.Zone].MaxPeople;
        if (mode.Requirements.Length > 0 && maxPeople < Problem.Never)
            SlotSet.AddWhereAbove(schedule.ZonePeopleRow(activity.Zone, night), maxPeople - mode.Requirements.Length, blocked);
        if (schedule.ZoneClosedRow(activity.Zone, night) is { Length: > 0 } closed) SlotSet.AddWhereAbove(closed, 0, blocked);
        for (var index = 0; index < mode.Equipment.Count; index++)
        {
            var demand = mode.Equipment[index];
            SlotSet.AddWhereAbove(schedule.EquipmentRow(demand.Equipment, night),
                compact.Problem.EquipmentCapacities[demand.Equipment] - demand.Count, blocked);
        }
        if (withCompany && mode.CompanyNeeded > 0)
        {
            Array.Clear(accompanied);
            SlotSet.AddWhereAbove(schedule.ZonePeopleRow(activity.Zone, night), mode.CompanyNeeded - 1, accompanied);
            for (var word = 0; word < blocked.Length; word++) blocked[word] |= ~accompanied[word];
        }
        SlotSet.DilateDown(blocked, mode.DurationSlots);
        for (var word = 0; word < starts.Length; word++) starts[word] &= ~blocked[word];
        return !IsEmpty() && (mode.Requirements.Length == 0 || KeepStaffed(schedule, mode, night, excluded[night]))
            && (activity.ZoneClosedMinutes == 0 || KeepOpenZone(schedule, activity, mode, night));
    }

    /// <summary>Eligible people of the mode who are free for its whole duration from a feasible start, a bit each.</summary>
    public ulong FreeAt(CompactMode mode, int slot)
    {
        var free = 0UL;
        for (var left = mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            if (SlotSet.Contains(freeByPerson.AsSpan(person * compact.WordsPerNight, compact.WordsPerNight), slot))
                free |= 1UL << person;
        }
        return free;
    }

    /// <summary>
    /// Keeps only the ends of runs of consecutive starts: of all feasible starts, and of those for which a person is free. The
    /// starts between are assumed never to be cheaper than both ends.
    /// </summary>
    /// <param name="mode">The mode of the last <see cref="Find"/>.</param>
    /// <param name="preferred">A start that is kept too if it is feasible; -1: none.</param>
    public void KeepRunEnds(CompactMode mode, int preferred)
    {
        Array.Clear(runEnds);
        if (preferred >= 0) SlotSet.Add(runEnds, preferred, preferred + 1);
        SlotSet.AddRunEnds(starts, runEnds);
        for (var left = mode.Eligible; left != 0; left &= left - 1)
        {
            var person = BitOperations.TrailingZeroCount(left);
            SlotSet.AddRunEnds(freeByPerson.AsSpan(person * compact.WordsPerNight, compact.WordsPerNight), runEnds);
        }
        for (var word = 0; word < starts.Length; word++) starts[word] &= runEnds[word];
    }

    /// <summary>Keeps the starts for which enough eligible people are free throughout; true if there are any.</summary>
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
            var presence = compact.FeasibleShifts.PossibleWork.AsSpan(compact.RowOffset(person, night), words);
            var busy = schedule.BusyRow(person, night);
            // First the slots at which the person cannot work, then the starts that avoid them.
            for (var word = 0; word < words; word++) free[word] = ~presence[word] | busy[word];
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
    /// Keeps the starts of zone-closing work after which no work lies in the closed time. The clean-down of the same night does
    /// not count, because it can be moved.
    /// </summary>
    private bool KeepOpenZone(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night)
    {
        for (var slot = SlotSet.First(starts); slot >= 0;
            slot = slot + 1 < compact.PaddedSlotCount ? SlotSet.First(starts, slot + 1) : -1)
        {
            var from = compact.MinuteAt(night, slot) + mode.DurationMinutes;
            var to = from + activity.ZoneClosedMinutes;
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
