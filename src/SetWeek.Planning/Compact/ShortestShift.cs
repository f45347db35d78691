namespace SetWeek.Planning.Compact;

/// <summary>
/// Finds a short shift of a person in a night that covers given slots and keeps the rules of the person: lengths, rest,
/// commitments, number of nights, briefing, and room for a break. It starts as late, and then ends as early, as these allow.
/// </summary>
internal sealed class ShortestShift(CompactProblem compact)
{
    private readonly FeasibleShifts feasibleShifts = compact.FeasibleShifts;
    private readonly BegunShifts begun = compact.BegunShifts;

    /// <summary>
    /// Finds a shift [from, to) in slots, on the shift grid, that covers [coverFrom, coverTo). It lies within [withinFrom,
    /// withinTo) if possible; an empty range sets no preference. The person's work is that of the schedule and [addedFrom,
    /// addedTo). False if there is no such shift.
    /// </summary>
    public bool TryFind(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo, int withinFrom, int withinTo,
        int addedFrom, int addedTo, out int from, out int to)
    {
        var (earliest, latest) = RestBounds(schedule, person, night);
        var at = person * compact.Nights + night;
        if (begun.State(at) is var state && state != ShiftState.NotBegun)
            return TryExtendBegun(
                schedule, person, night, state, coverFrom, coverTo, latest, addedFrom, addedTo, out from, out to);
        coverFrom = Math.Min(coverFrom, LatestStart(schedule, person, night, addedFrom, addedTo));
        if (coverFrom < 0 || schedule.ShiftFrom[at] < 0 && schedule.ShiftCount[person] >= compact.Problem.Crew[person].MaxNights)
        {
            (from, to) = (-1, -1);
            return false;
        }
        if (withinTo > withinFrom
            && TryFindWithin(schedule, person, night, coverFrom, coverTo,
                Math.Max(earliest, withinFrom), Math.Min(latest, withinTo), addedFrom, addedTo, out from, out to))
            return true;
        return TryFindWithin(schedule, person, night, coverFrom, coverTo, earliest, latest, addedFrom, addedTo, out from, out to);
    }

    /// <summary>Paid slots of a shift of a length in slots: without its break, if it needs one.</summary>
    public int PaidSlots(int person, int length) =>
        length > feasibleShifts.MaxSlotsWithoutBreak[person] ? length - feasibleShifts.BreakSlots[person] : length;

    /// <summary>
    /// Last slot at which a shift that has not begun can start so that the briefing is over before the person's first work, with
    /// work in [addedFrom, addedTo) in addition.
    /// </summary>
    private int LatestStart(PartialSchedule schedule, int person, int night, int addedFrom, int addedTo)
    {
        var briefing = feasibleShifts.BriefingSlots[person];
        if (briefing == 0) return int.MaxValue;
        var first = SlotSet.First(schedule.BusyRow(person, night));
        if (addedTo > addedFrom && (first < 0 || addedFrom < first)) first = addedFrom;
        return first < 0 ? int.MaxValue : first - briefing;
    }

    /// <summary>
    /// Can the person's present shift hold work in [addedFrom, addedTo) in addition, briefing and break included?
    /// </summary>
    public bool HoldsWork(PartialSchedule schedule, int person, int night, int addedFrom, int addedTo)
    {
        var at = person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        var briefing = begun.State(at) == ShiftState.NotBegun ? feasibleShifts.BriefingSlots[person] : 0;
        return from >= 0 && from + briefing <= addedFrom && addedTo <= to
            && BreakFits(schedule, person, night, from, to, addedFrom, addedTo);
    }

    /// <summary>
    /// Is a shift [from, to) free of the break rule, or has it room for a break, with work in [addedFrom, addedTo) in addition?
    /// </summary>
    public bool BreakFits(PartialSchedule schedule, int person, int night, int from, int to, int addedFrom, int addedTo) =>
        to - from <= feasibleShifts.MaxSlotsWithoutBreak[person]
        || BreakStart(schedule, person, night, from, to, addedFrom, addedTo, schedule.Keyholder[night] == person, -1) >= 0;

    /// <summary>
    /// Start slot of the break of a shift [from, to), nearest to a preferred slot (-1: the first possible one). -1: there is no
    /// room.
    /// </summary>
    /// <param name="schedule">Gives the person's work.</param>
    /// <param name="person">The person.</param>
    /// <param name="night">The night.</param>
    /// <param name="from">First slot of the shift.</param>
    /// <param name="to">Slot after the last of the shift.</param>
    /// <param name="addedFrom">First slot of more work.</param>
    /// <param name="addedTo">Slot after that work; not above <paramref name="addedFrom"/>: there is none.</param>
    /// <param name="isKeyholder">True: the person opens and closes the store.</param>
    /// <param name="preferred">The preferred slot, or -1.</param>
    public int BreakStart(PartialSchedule schedule, int person, int night, int from, int to, int addedFrom, int addedTo,
        bool isKeyholder, int preferred)
    {
        var (length, stretch) = (feasibleShifts.BreakSlots[person], feasibleShifts.MaxSlotsWithoutBreak[person]);
        Span<ulong> busy = stackalloc ulong[compact.WordsPerNight];
        schedule.BusyRow(person, night).CopyTo(busy);
        if (addedTo > addedFrom) SlotSet.Add(busy, addedFrom, addedTo);
        var (first, last) = (Math.Max(from, to - length - stretch), Math.Min(to - length, from + stretch));
        var at = person * compact.Nights + night;
        if (begun.State(at) == ShiftState.NotBegun)
        {
            var clear = feasibleShifts.BreakClearSlots[person];
            var pieces = schedule.Pieces[at] + (addedTo > addedFrom ? 1 : 0);
            var opens = isKeyholder && !begun.NightsUnderWay[night];
            var (opening, closing) = opens ? (compact.OpeningSlots, compact.ClosingSlots) : (0, 0);
            (first, last) = (Math.Max(first, from + clear), Math.Min(last, to - clear - length));
            if (pieces + Math.Sign(opening) + Math.Sign(closing) >= 2)
            {
                // After the first slot of work and before the last one, a break that avoids work lies between two pieces.
                first = Math.Max(first, opening > 0 ? from + opening : SlotSet.First(busy) + 1);
                last = Math.Min(last, (closing > 0 ? to - closing : SlotSet.Last(busy)) - length);
            }
        }
        if (last < first) return -1;
        SlotSet.DilateDown(busy, length);
        var found = -1;
        for (var slot = first; slot <= last; slot++)
        {
            if (SlotSet.Contains(busy, slot)) continue;
            if (preferred < 0) return slot;
            if (found < 0 || Math.Abs(slot - preferred) < Math.Abs(found - preferred)) found = slot;
        }
        return found;
    }

    /// <summary>
    /// Tries starts from the latest one that covers, backwards; for each start the shortest end. The first shift that fits is
    /// returned.
    /// </summary>
    private bool TryFindWithin(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo,
        int earliest, int latest, int addedFrom, int addedTo, out int from, out int to)
    {
        var step = feasibleShifts.SlotsPerMoment;
        var minMoments = feasibleShifts.MinMoments[person];
        var lastMoment = compact.SlotCounts[night] / step;
        for (var begin = Math.Min(coverFrom / step, lastMoment); begin >= 0 && begin * step >= earliest; begin--)
        {
            var limit = Math.Min(feasibleShifts.LatestEnd(person, night, begin), latest / step);
            for (var end = Math.Max((coverTo + step - 1) / step, begin + minMoments); end <= limit; end++)
            {
                if (!feasibleShifts.MayEnd(person, night, end)) continue;
                (from, to) = (begin * step, end * step);
                if (BreakFits(schedule, person, night, from, to, addedFrom, addedTo)) return true;
            }
        }
        (from, to) = (-1, -1);
        return false;
    }

    /// <summary>Finds the earliest end of a begun shift that covers [coverFrom, coverTo); its start is fixed.</summary>
    private bool TryExtendBegun(PartialSchedule schedule, int person, int night, ShiftState state, int coverFrom, int coverTo,
        int latest, int addedFrom, int addedTo, out int from, out int to)
    {
        var at = person * compact.Nights + night;
        (from, to) = (begun.StartSlot(at), begun.EarliestEndSlot(at));
        if (state == ShiftState.Ended) return coverFrom >= from && coverTo <= to && addedTo <= addedFrom;
        if (coverFrom < from) return false;
        var step = feasibleShifts.SlotsPerMoment;
        var latestEnd = Math.Min(compact.SlotCounts[night], latest);
        for (var end = Math.Max((coverTo + step - 1) / step * step, to); end <= latestEnd; end += step)
        {
            to = end;
            if (begun.MayEnd(at, end) && begun.BreakFits(at, schedule, this, end, addedFrom, addedTo)) return true;
            if (end == begun.EarliestEndSlot(at) && begun.IsEarliestEndExempt(at)) return true;
        }
        return false;
    }

    /// <summary>Slots between which a shift keeps the minimum rest to the person's previous and next shifts.</summary>
    private (int Earliest, int Latest) RestBounds(PartialSchedule schedule, int person, int night)
    {
        var rest = compact.Problem.Crew[person].MinRest;
        var (earliest, latest) = (0, compact.SlotCounts[night]);
        for (var before = night - 1; before >= 0; before--)
        {
            var end = schedule.ShiftTo[person * compact.Nights + before];
            if (end < 0) continue;
            earliest = compact.SlotAtOrAfter(night, compact.MinuteAt(before, end) + rest);
            break;
        }
        for (var after = night + 1; after < compact.Nights; after++)
        {
            var begin = schedule.ShiftFrom[person * compact.Nights + after];
            if (begin < 0) continue;
            latest = compact.SlotAtOrBefore(night, compact.MinuteAt(after, begin) - rest);
            break;
        }
        return (earliest, latest);
    }
}
