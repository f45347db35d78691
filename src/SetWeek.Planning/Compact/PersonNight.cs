namespace SetWeek.Planning.Compact;

/// <summary>
/// The shortest shift of a person in a night that holds what it must: lengths, rest, commitments, room for a break.
/// </summary>
internal sealed class PersonNight(Image image)
{
    private readonly ShiftTable table = image.Shifts;
    private readonly BegunShifts begun = image.Begun;

    /// <summary>
    /// Finds from and to (slots, on the shift grid) of a shift over [first, last), inside [inFrom, inTo) where that can be.
    /// The person's work is as the draft has it, with [extraFrom, extraTo) besides.
    /// </summary>
    public bool Fit(Draft draft, int person, int night, int first, int last, int inFrom, int inTo, int extraFrom, int extraTo,
        out int from, out int to)
    {
        var (earliest, latest) = Bounds(draft, person, night);
        var at = person * image.Nights + night;
        if (begun.Kind(at) is var kind && kind != ShiftKind.Open)
            return FitBegun(draft, person, night, kind, first, last, latest, extraFrom, extraTo, out from, out to);
        if (draft.ShiftFrom[at] < 0
            && draft.ShiftCount[person] >= image.Problem.Crew[person].MaxNights)
            { (from, to) = (-1, -1); return false; }
        if (inTo > inFrom && Search(draft, person, night, first, last, Math.Max(earliest, inFrom), Math.Min(latest, inTo),
            extraFrom, extraTo, out from, out to))
            return true;
        return Search(draft, person, night, first, last, earliest, latest, extraFrom, extraTo, out from, out to);
    }

    /// <summary>Slots of a shift of this length that are paid.</summary>
    public int PaidSlots(int person, int length) =>
        length > table.MaxStretch[person] ? length - table.BreakSlots[person] : length;

    /// <summary>Is there room for the break that a shift needs, if it needs one?</summary>
    public bool BreakFits(Draft draft, int person, int night, int from, int to, int extraFrom, int extraTo)
    {
        var stretch = table.MaxStretch[person];
        if (to - from <= stretch) return true;
        Span<ulong> taken = stackalloc ulong[image.Words];
        draft.BusyRow(person, night).CopyTo(taken);
        if (extraTo > extraFrom) Slots.Add(taken, extraFrom, extraTo);
        return BreakAt(taken, from, to, stretch, table.BreakSlots[person], -1) >= 0;
    }

    /// <summary>Slot at which the break of a shift may start, nearest to one wished for (-1: any); -1: nowhere.</summary>
    public static int BreakAt(Span<ulong> taken, int from, int to, int stretch, int length, int wished)
    {
        var (first, last) = (Math.Max(from, to - length - stretch), Math.Min(to - length, from + stretch));
        Slots.Smear(taken, length);
        var found = -1;
        for (var slot = first; slot <= last; slot++)
        {
            if (Slots.Has(taken, slot)) continue;
            if (wished < 0) return slot;
            if (found < 0 || Math.Abs(slot - wished) < Math.Abs(found - wished)) found = slot;
        }
        return found;
    }

    private bool Search(Draft draft, int person, int night, int first, int last, int earliest, int latest, int extraFrom,
        int extraTo, out int from, out int to)
    {
        var step = table.Step;
        var least = table.MinMoments[person];
        var lastMoment = image.SlotCounts[night] / step;
        for (var begin = Math.Min(first / step, lastMoment); begin >= 0 && begin * step >= earliest; begin--)
        {
            var limit = Math.Min(table.Limit(person, night, begin), latest / step);
            for (var end = Math.Max((last + step - 1) / step, begin + least); end <= limit; end++)
            {
                if (!table.MayEnd(person, night, end)) continue;
                (from, to) = (begin * step, end * step);
                if (BreakFits(draft, person, night, from, to, extraFrom, extraTo)) return true;
            }
        }
        (from, to) = (-1, -1);
        return false;
    }

    private bool FitBegun(
        Draft draft, int person, int night, ShiftKind kind, int first, int last, int latest, int extraFrom, int extraTo,
            out int from, out int to)
    {
        var at = person * image.Nights + night;
        (from, to) = (begun.From(at), begun.To(at));
        if (kind == ShiftKind.Ended) return first >= from && last <= to && extraTo <= extraFrom;
        if (first < from) return false;
        var step = table.Step;
        var most = Math.Min(image.SlotCounts[night], latest);
        for (var end = Math.Max((last + step - 1) / step * step, to); end <= most; end += step)
        {
            to = end;
            if (begun.MayEnd(at, end) && begun.BreakFits(at, draft, this, end, extraFrom, extraTo)) return true;
            if (end == begun.To(at) && begun.Excused(at)) return true;
        }
        return false;
    }

    /// <summary>Slots between which a shift may lie for the rest to the person's other shifts.</summary>
    private (int Earliest, int Latest) Bounds(Draft draft, int person, int night)
    {
        var rest = image.Problem.Crew[person].MinRest;
        var (earliest, latest) = (0, image.SlotCounts[night]);
        for (var before = night - 1; before >= 0; before--)
        {
            var end = draft.ShiftTo[person * image.Nights + before];
            if (end < 0) continue;
            earliest = image.SlotAtOrAfter(night, image.Minute(before, end) + rest);
            break;
        }
        for (var after = night + 1; after < image.Nights; after++)
        {
            var begin = draft.ShiftFrom[person * image.Nights + after];
            if (begin < 0) continue;
            latest = image.SlotAtOrBefore(night, image.Minute(after, begin) - rest);
            break;
        }
        return (earliest, latest);
    }
}
