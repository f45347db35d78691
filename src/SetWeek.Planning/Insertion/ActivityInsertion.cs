using System.Numerics;
using SetWeek.Model.Durations;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Which feasible place an insertion takes: the one that starts first, or the one with the lowest price.</summary>
internal enum InsertionRule { Earliest, LowestPrice }

/// <summary>
/// Inserts one activity, or a same-night group, into a partial schedule. It keeps every rule that can be checked before the
/// night's roster is complete. If no place is feasible, the schedule stays as it was.
/// </summary>
internal sealed class ActivityInsertion(CompactProblem compact, ShortestShift shortestShift, SplitMix64 random)
{
    /// <summary>Cheapest places kept; the next one is tried if people or clean-down do not fit at the one before.</summary>
    private const int MaxCandidates = 4;

    private readonly FeasibleStarts feasibleStarts = new(compact);
    private readonly StaffMatching staffMatching = new(compact, shortestShift);
    private readonly KeyholderCover keyholderCover = new(compact, shortestShift);
    private readonly ShiftTrail trail = new(compact);
    private readonly PartialSchedule saved = new(compact);
    private readonly byte[] people = new byte[compact.MaxPeoplePerActivity];
    private readonly (double Price, int Mode, int Night, int Start)[] candidates = new (double, int, int, int)[MaxCandidates];
    private int candidateCount;

    public InsertionPrices Prices { get; set; } = new();
    public InsertionRule Rule { get; set; }

    /// <summary>By night: people who get no work there at present, a bit each.</summary>
    public ulong[] ExcludedPeople => staffMatching.ExcludedPeople;

    /// <summary>True: a stint that needs company is inserted only where it has it.</summary>
    public bool OnlyWithCompany { get; set; }

    /// <summary>A slot of the night that the inserted stint has to cover; -1: none.</summary>
    public int CoveredSlot { get; set; } = -1;

    /// <summary>Starts evaluated so far: the measure of effort.</summary>
    public long StartsEvaluated { get; private set; }

    /// <summary>Inserts a stint and the members of its same-night group that are not placed; true if all fit.</summary>
    public bool InsertGroup(PartialSchedule schedule, int activity)
    {
        var group = compact.Activities[activity].SameNightGroup;
        if (group.Length == 1) return Insert(schedule, activity, -1);
        var fixedNight = compact.Activities[activity].GroupNight;
        foreach (var member in group) if (schedule.Night[member] >= 0) fixedNight = schedule.Night[member];
        if (fixedNight >= 0) return InsertGroupIn(schedule, group, fixedNight);
        CollectCandidates(schedule, group[0], -1);
        // The nights of the first member's cheapest places are tried first, then all others.
        Span<int> nights = stackalloc int[MaxCandidates];
        var count = 0;
        for (var candidate = 0; candidate < candidateCount; candidate++)
            if (!nights[..count].Contains(candidates[candidate].Night)) nights[count++] = candidates[candidate].Night;
        for (var tried = 0; tried < count; tried++)
            if (InsertGroupIn(schedule, group, nights[tried])) return true;
        for (var night = 0; night < compact.Nights; night++)
            if (!nights[..count].Contains(night) && InsertGroupIn(schedule, group, night)) return true;
        return false;
    }

    /// <summary>Inserts an activity, and its zone's clean-down if it needs one; true if it fits. Night -1: any night.</summary>
    public bool Insert(PartialSchedule schedule, int index, int night)
    {
        var activity = compact.Activities[index];
        CollectCandidates(schedule, index, night);
        // The insertion of a clean-down overwrites the candidates, so this one keeps a copy.
        Span<(double Price, int Mode, int Night, int Start)> places = stackalloc (double, int, int, int)[candidateCount];
        candidates.AsSpan(0, candidateCount).CopyTo(places);
        foreach (var place in places)
        {
            var mark = trail.Mark;
            if (TryInsert(schedule, index, place.Mode, place.Night, place.Start)
                && (!activity.NeedsCleanDown || UpdateCleanDown(schedule, activity.Zone, place.Night)))
            {
                if (activity.CleanDownNight < 0) trail.Clear();
                return true;
            }
            if (schedule.Night[index] >= 0) schedule.Remove(index);
            trail.Backtrack(schedule, mark);
        }
        return false;
    }

    /// <summary>
    /// Gives a zone its clean-down after the night's last work there, and removes the clean-down of a zone without work. False if
    /// the clean-down does not fit; then it stays as it was.
    /// </summary>
    public bool UpdateCleanDown(PartialSchedule schedule, int zone, int night)
    {
        var index = compact.CleanDownIndex(zone, night);
        var activity = compact.Activities[index];
        if (activity.HasBegun || activity.Modes.Length == 0) return true;
        var isPlaced = schedule.Night[index] >= 0;
        if (schedule.CleanDownDemand[zone * compact.Nights + night] == 0)
        {
            if (isPlaced) schedule.Remove(index);
            return true;
        }
        if (isPlaced && schedule.StartMinute[index] >= TimeWindow.LastWorkEnd(compact, schedule, zone, night)
            && !IsInClosedTime(schedule, index))
            return true;
        if (!isPlaced) return Insert(schedule, index, night);
        var (mode, start, count) = (schedule.Mode[index], schedule.StartSlot[index], schedule.AssignedCount[index]);
        Span<byte> assigned = stackalloc byte[count];
        schedule.PeopleOf(index).CopyTo(assigned);
        schedule.Remove(index);
        if (Insert(schedule, index, night)) return true;
        schedule.Insert(index, mode, night, start, assigned);
        return false;
    }

    /// <summary>Does the activity lie in time in which earlier work closes its zone?</summary>
    private bool IsInClosedTime(PartialSchedule schedule, int index)
    {
        var closed = schedule.ZoneClosedRow(compact.Activities[index].Zone, schedule.Night[index]);
        for (var slot = schedule.StartSlot[index]; slot < schedule.EndSlot[index] && closed.Length > 0; slot++)
            if (closed[slot] > 0) return true;
        return false;
    }

    private bool InsertGroupIn(PartialSchedule schedule, int[] group, int night)
    {
        saved.CopyFrom(schedule);
        foreach (var activity in group)
            if (schedule.Night[activity] < 0 && !Insert(schedule, activity, night))
            {
                schedule.CopyFrom(saved);
                return false;
            }
        return true;
    }

    /// <summary>
    /// Collects the best places by the insertion rule, best first. A stint that needs company and finds none anywhere takes a
    /// place without, unless the search asks for more; <see cref="CompanyCompletion"/> then has to bring company.
    /// </summary>
    private void CollectCandidates(PartialSchedule schedule, int index, int onlyNight)
    {
        CollectCandidates(schedule, index, onlyNight, withCompany: true);
        if (candidateCount == 0 && compact.Activities[index].Company > 0 && !OnlyWithCompany)
            CollectCandidates(schedule, index, onlyNight, withCompany: false);
    }

    private void CollectCandidates(PartialSchedule schedule, int index, int onlyNight, bool withCompany)
    {
        var activity = compact.Activities[index];
        var window = TimeWindow.Of(compact, schedule, index);
        candidateCount = 0;
        for (var night = 0; night < compact.Nights; night++)
        {
            if (onlyNight >= 0 && night != onlyNight) continue;
            if (activity.CleanDownNight >= 0 && activity.CleanDownNight != night) continue;
            var closes = compact.MinuteAt(night, compact.SlotCounts[night]);
            if (closes <= window.EarliestStart || compact.Opens[night] >= window.LatestEnd) continue;
            for (var mode = 0; mode < activity.Modes.Length; mode++)
                if (feasibleStarts.Find(schedule, activity, activity.Modes[mode], night,
                    CoveredSlot < 0 ? window : Covering(window, night, activity.Modes[mode].DurationSlots),
                    staffMatching.ExcludedPeople, withCompany))
                    AddCandidates(schedule, activity, mode, night);
            if (candidateCount > 0 && Rule == InsertionRule.Earliest) return;
        }
    }

    /// <summary>The part of a time window in which the activity covers <see cref="CoveredSlot"/>.</summary>
    private TimeWindow Covering(TimeWindow window, int night, int duration) => new(
        Math.Max(window.EarliestStart, compact.MinuteAt(night, CoveredSlot - duration + 1)),
        Math.Min(window.LatestEnd, compact.MinuteAt(night, CoveredSlot + duration)));

    private void AddCandidates(PartialSchedule schedule, CompactActivity activity, int modeIndex, int night)
    {
        var mode = activity.Modes[modeIndex];
        if (Rule == InsertionRule.LowestPrice) feasibleStarts.KeepRunEnds(mode, PublishedSlot(activity, night));
        for (var slot = SlotSet.First(feasibleStarts.Starts); slot >= 0; slot = NextStart(slot))
        {
            StartsEvaluated++;
            if (PriceOf(schedule, activity, mode, night, slot) is { } price)
            {
                // Each mode has its first start as its only candidate: prefers an early start, a short mode and few people.
                if (Rule == InsertionRule.Earliest) price = slot + mode.DurationSlots * Math.Max(1, mode.Requirements.Length);
                KeepCandidate((price, modeIndex, night, slot));
                if (Rule == InsertionRule.Earliest) return;
            }
        }
    }

    /// <summary>Start slot published for the activity in that night; -1: none.</summary>
    private int PublishedSlot(CompactActivity activity, int night) =>
        (activity.CleanDownNight < 0 ? compact.Published.NightOf(activity.Index) : activity.CleanDownNight) == night
            ? compact.Published.StartSlotOf(activity.Index) : -1;

    private int NextStart(int slot) => slot + 1 < compact.PaddedSlotCount ? SlotSet.First(feasibleStarts.Starts, slot + 1) : -1;

    /// <summary>Price of a start in the unit of <see cref="InsertionPrices"/>; null if it cannot be staffed.</summary>
    private double? PriceOf(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night, int slot)
    {
        var end = slot + mode.DurationSlots;
        if (keyholderCover.PriceOf(schedule, staffMatching, Prices, night, slot, end) is not { } price) return null;
        if (mode.Requirements.Length > 0)
        {
            if (staffMatching.Match(schedule, Prices, activity, mode, night, slot, feasibleStarts.FreeAt(mode, slot),
                people) is not { } staff)
                return null;
            // In a night without a keyholder yet, the new keyholder may do the work too: only the larger price counts.
            price = schedule.Keyholder[night] < 0 ? Math.Max(price, staff) : price + staff;
        }
        if (activity.NeedsCleanDown && schedule.CleanDownDemand[activity.Zone * compact.Nights + night] == 0
            && compact.Problem.Zones[activity.Zone].CleanDown is { } cleanDown)
            price += cleanDown.Minutes * cleanDown.People * compact.MeanRate;
        if (compact.LateWork is { } lateWork)
        {
            var from = compact.MinuteAt(night, slot);
            price += Prices.LateWork * lateWork.LateMinutes(activity, from, from + mode.DurationMinutes)
                * Math.Max(1, mode.Requirements.Length);
        }
        price += Prices.Delay * compact.MeanRate * compact.SlotMinutes * (compact.SlotsBefore[night] + slot);
        if (Prices.Displaced > 0 && compact.Published.StartSlotOf(activity.Index) is >= 0 and var published
            && (published != slot || PublishedSlot(activity, night) < 0))
            price += Prices.Displaced;
        if (Prices.Shuffled > 0 && compact.Published.IsShuffled(activity.Index, night, compact.MinuteAt(night, slot)))
            price += Prices.Shuffled;
        if (Prices.Change > 0 && activity.Task >= 0 && compact.Published.NightOf(activity.Index) >= 0
            && compact.Published.NightOf(activity.Index) != night)
            price += Prices.Change;
        return Prices.Noise > 0 ? price * (1 + Prices.Noise * (2 * random.NextDouble() - 1)) : price;
    }

    private void KeepCandidate((double Price, int Mode, int Night, int Start) candidate)
    {
        if (candidateCount == MaxCandidates && candidates[MaxCandidates - 1].Price <= candidate.Price) return;
        var at = candidateCount < MaxCandidates ? candidateCount++ : MaxCandidates - 1;
        for (; at > 0 && candidates[at - 1].Price > candidate.Price; at--) candidates[at] = candidates[at - 1];
        candidates[at] = candidate;
    }

    /// <summary>Inserts an activity at a place and extends the shifts; false if people or a keyholder are missing.</summary>
    private bool TryInsert(PartialSchedule schedule, int index, int modeIndex, int night, int start)
    {
        var activity = compact.Activities[index];
        var mode = activity.Modes[modeIndex];
        var end = start + mode.DurationSlots;
        if (mode.Requirements.Length > 0)
        {
            var free = 0UL;
            for (var left = mode.Eligible & ~staffMatching.ExcludedPeople[night]; left != 0; left &= left - 1)
            {
                var person = BitOperations.TrailingZeroCount(left);
                if (!SlotSet.ContainsAny(schedule.BusyRow(person, night), start, end)) free |= 1UL << person;
            }
            if (staffMatching.Match(schedule, Prices, activity, mode, night, start, free, people) is null) return false;
        }
        var crew = people.AsSpan(0, mode.Requirements.Length);
        foreach (var person in crew)
        {
            if (staffMatching.ExtendedShift(schedule, person, night, start, end) is not { } shift) return false;
            trail.SetShift(schedule, person, night, shift.From, shift.To);
        }
        schedule.Insert(index, modeIndex, night, start, crew);
        return keyholderCover.TryExtend(schedule, trail, night, start, end);
    }
}
