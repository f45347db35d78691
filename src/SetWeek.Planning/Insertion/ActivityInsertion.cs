using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Where of all places that fit: the first, the last, or the one that costs least.</summary>
internal enum InsertionRule { Earliest, LowestPrice }

/// <summary>
/// Places one job, or a group that lies in one night, into a draft so that it keeps every rule that can be kept before the
/// roster is settled; or leaves the draft as it was.
/// </summary>
internal sealed class ActivityInsertion(CompactProblem compact, ShortestShift shortestShift, SplitMix64 random)
{
    private const int MaxCandidates = 4;

    private readonly FeasibleStarts feasibleStarts = new(compact);
    private readonly StaffMatching staffMatching = new(compact, shortestShift);
    private readonly KeyholderCover keyholderCover = new(compact, shortestShift);
    private readonly ShiftTrail trail = new(compact);
    private readonly PartialSchedule saved = new(compact);
    private readonly byte[] people = new byte[compact.MaxPeoplePerActivity];
    private readonly (double Price, int Manner, int Night, int Start)[] candidates = new (double, int, int, int)[MaxCandidates];
    private int candidateCount;

    public InsertionPrices Prices { get; set; } = new();
    public InsertionRule Rule { get; set; }

    /// <summary>By night: people who get no work there for now.</summary>
    public ulong[] ExcludedPeople => staffMatching.ExcludedPeople;

    /// <summary>Starts looked at so far: what the search counts its effort in.</summary>
    public long StartsEvaluated { get; private set; }

    /// <summary>Places a stint with those of its group that are not placed yet.</summary>
    public bool InsertGroup(PartialSchedule schedule, int activity)
    {
        var group = compact.Activities[activity].SameNightGroup;
        if (group.Length == 1) return Insert(schedule, activity, -1);
        var fixedNight = compact.Activities[activity].GroupNight;
        foreach (var other in group) if (schedule.Night[other] >= 0) fixedNight = schedule.Night[other];
        if (fixedNight >= 0) return InsertGroupIn(schedule, group, fixedNight);
        CollectCandidates(schedule, group[0], -1);
        Span<int> nights = stackalloc int[MaxCandidates];
        var count = 0;
        for (var at = 0; at < candidateCount; at++)
            if (!nights[..count].Contains(candidates[at].Night)) nights[count++] = candidates[at].Night;
        for (var at = 0; at < count; at++)
            if (InsertGroupIn(schedule, group, nights[at])) return true;
        for (var night = 0; night < compact.Nights; night++)
            if (!nights[..count].Contains(night) && InsertGroupIn(schedule, group, night)) return true;
        return false;
    }

    /// <summary>Places a job; night -1: in any.</summary>
    public bool Insert(PartialSchedule schedule, int index, int night)
    {
        var activity = compact.Activities[index];
        CollectCandidates(schedule, index, night);
        // Placing a clean-down looks too: the places found are kept aside for the next try.
        Span<(double Price, int Manner, int Night, int Start)> places = stackalloc (double, int, int, int)[candidateCount];
        candidates.AsSpan(0, candidateCount).CopyTo(places);
        foreach (var place in places)
        {
            var mark = trail.Mark;
            if (TryInsert(schedule, index, place.Manner, place.Night, place.Start)
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

    /// <summary>Sees to it that a zone worked in has its clean-down after that work, and one not worked in has none.</summary>
    public bool UpdateCleanDown(PartialSchedule schedule, int zone, int night)
    {
        var index = compact.CleanDownIndex(zone, night);
        var activity = compact.Activities[index];
        if (activity.HasBegun || activity.Modes.Length == 0) return true;
        var placed = schedule.Night[index] >= 0;
        if (schedule.CleanDownDemand[zone * compact.Nights + night] == 0)
        {
            if (placed) schedule.Remove(index);
            return true;
        }
        if (placed && schedule.StartMinute[index] >= TimeWindow.LastWorkEnd(compact, schedule, zone, night) && !IsInClosedTime(schedule, index)) return true;
        if (!placed) return Insert(schedule, index, night);
        var (manner, start, count) = (schedule.Mode[index], schedule.StartSlot[index], schedule.AssignedCount[index]);
        Span<byte> hands = stackalloc byte[count];
        schedule.PeopleOf(index).CopyTo(hands);
        schedule.Remove(index);
        if (Insert(schedule, index, night)) return true;
        schedule.Insert(index, manner, night, start, hands);
        return false;
    }

    private bool IsInClosedTime(PartialSchedule schedule, int index)
    {
        var shut = schedule.ZoneClosedRow(compact.Activities[index].Zone, schedule.Night[index]);
        for (var slot = schedule.StartSlot[index]; slot < schedule.EndSlot[index] && shut.Length > 0; slot++)
            if (shut[slot] > 0) return true;
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

    /// <summary>Collects the places preferred, best first.</summary>
    private void CollectCandidates(PartialSchedule schedule, int index, int onlyNight)
    {
        var activity = compact.Activities[index];
        var window = TimeWindow.Of(compact, schedule, index);
        candidateCount = 0;
        for (var night = 0; night < compact.Nights; night++)
        {
            if (onlyNight >= 0 && night != onlyNight || activity.CleanDownNight >= 0 && activity.CleanDownNight != night) continue;
            if (compact.MinuteAt(night, compact.SlotCounts[night]) <= window.EarliestStart || compact.Opens[night] >= window.LatestEnd) continue;
            for (var manner = 0; manner < activity.Modes.Length; manner++)
                if (feasibleStarts.Find(schedule, activity, activity.Modes[manner], night, window, staffMatching.ExcludedPeople)) AddCandidates(schedule, activity, manner, night);
            if (candidateCount > 0 && Rule != InsertionRule.LowestPrice) return;
        }
    }

    private void AddCandidates(PartialSchedule schedule, CompactActivity activity, int index, int night)
    {
        var mode = activity.Modes[index];
        if (Rule == InsertionRule.LowestPrice) feasibleStarts.KeepRunEnds(mode, PublishedSlot(activity, night));
        for (var slot = SlotSet.First(feasibleStarts.Starts); slot >= 0; slot = NextStart(slot))
        {
            StartsEvaluated++;
            if (PriceOf(schedule, activity, mode, night, slot) is { } price)
            {
                // Of the ways that start first, one that is done soon and takes few people's time.
                if (Rule == InsertionRule.Earliest) price = slot + mode.DurationSlots * Math.Max(1, mode.Requirements.Length);
                KeepCandidate((price, index, night, slot));
                if (Rule != InsertionRule.LowestPrice) return;
            }
        }
    }

    /// <summary>The slot that the job was published at in that night; -1: none.</summary>
    private int PublishedSlot(CompactActivity activity, int night) =>
        (activity.CleanDownNight < 0 ? compact.Published.NightOf(activity.Index) : activity.CleanDownNight) == night
            ? compact.Published.StartSlotOf(activity.Index) : -1;

    private int NextStart(int slot) => slot + 1 < compact.PaddedSlotCount ? SlotSet.First(feasibleStarts.Starts, slot + 1) : -1;

    private double? PriceOf(PartialSchedule schedule, CompactActivity activity, CompactMode mode, int night, int slot)
    {
        if (keyholderCover.PriceOf(schedule, staffMatching, Prices, night, slot, slot + mode.DurationSlots) is not { } price) return null;
        if (mode.Requirements.Length > 0)
        {
            if (staffMatching.Match(schedule, Prices, activity, mode, night, slot, feasibleStarts.FreeAt(mode, slot),
                people) is not { } staff)
                return null;
            // Whoever opens the night may well be the one who works in it.
            price = schedule.Keyholder[night] < 0 ? Math.Max(price, staff) : price + staff;
        }
        if (activity.NeedsCleanDown && schedule.CleanDownDemand[activity.Zone * compact.Nights + night] == 0
            && compact.Problem.Zones[activity.Zone].CleanDown is { } down)
            price += down.Minutes * down.People * compact.MeanRate;
        if (compact.LateWork is { } drain)
        {
            var from = compact.MinuteAt(night, slot);
            price += Prices.LateWork * drain.LateMinutes(activity, from, from + mode.DurationMinutes) * Math.Max(1, mode.Requirements.Length);
        }
        price += Prices.Delay * compact.MeanRate * compact.SlotMinutes * (compact.SlotsBefore[night] + slot);
        if (Prices.ReshuffledWork > 0 && compact.Published.StartSlotOf(activity.Index) is >= 0 and var was
            && (was != slot || PublishedSlot(activity, night) < 0))
            price += Prices.ReshuffledWork;
        if (Prices.Change > 0 && activity.Task >= 0 && compact.Published.NightOf(activity.Index) >= 0
            && compact.Published.NightOf(activity.Index) != night)
            price += Prices.Change;
        return Prices.Noise > 0 ? price * (1 + Prices.Noise * (2 * random.NextDouble() - 1)) : price;
    }

    private void KeepCandidate((double Price, int Manner, int Night, int Start) candidate)
    {
        if (candidateCount == MaxCandidates && candidates[MaxCandidates - 1].Price <= candidate.Price) return;
        var at = candidateCount < MaxCandidates ? candidateCount++ : MaxCandidates - 1;
        for (; at > 0 && candidates[at - 1].Price > candidate.Price; at--) candidates[at] = candidates[at - 1];
        candidates[at] = candidate;
    }

    private bool TryInsert(PartialSchedule schedule, int index, int modeIndex, int night, int start)
    {
        var activity = compact.Activities[index];
        var mode = activity.Modes[modeIndex];
        if (mode.Requirements.Length > 0)
        {
            var free = 0UL;
            for (var left = mode.Eligible & ~staffMatching.ExcludedPeople[night]; left != 0; left &= left - 1)
            {
                var person = BitOperations.TrailingZeroCount(left);
                if (!SlotSet.ContainsAny(schedule.BusyRow(person, night), start, start + mode.DurationSlots)) free |= 1UL << person;
            }
            if (staffMatching.Match(schedule, Prices, activity, mode, night, start, free, people) is null) return false;
        }
        var crew = people.AsSpan(0, mode.Requirements.Length);
        foreach (var person in crew)
        {
            if (staffMatching.ExtendedShift(schedule, person, night, start, start + mode.DurationSlots) is not { } shift) return false;
            trail.SetShift(schedule, person, night, shift.From, shift.To);
        }
        schedule.Insert(index, modeIndex, night, start, crew);
        return keyholderCover.TryExtend(schedule, trail, night, start, start + mode.DurationSlots);
    }
}
