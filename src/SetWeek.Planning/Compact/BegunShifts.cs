using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Open: to be planned. Ended: stays whole. Under way: its from stays, its to is at or after now.</summary>
internal enum ShiftKind : byte { Open, Ended, UnderWay }

/// <summary>In a re-plan: shifts that have begun, by person and night, and what may still be chosen of them.</summary>
internal sealed class BegunShifts
{
    private readonly Image image;
    private readonly Shift?[] shifts;
    private readonly ShiftKind[] kinds;

    public BegunShifts(Image image)
    {
        this.image = image;
        shifts = new Shift?[image.People * image.Nights];
        kinds = new ShiftKind[shifts.Length];
        if (image.Problem.Facts is not { } facts) return;
        foreach (var shift in facts.EndedShifts) Keep(shift, ShiftKind.Ended);
        foreach (var shift in facts.BegunShifts) Keep(shift, ShiftKind.UnderWay);
    }

    public ShiftKind Kind(int at) => kinds[at];
    public Shift Of(int at) => shifts[at]!;

    public int From(int at) => Math.Clamp(image.SlotAtOrBefore(Of(at).Night, Of(at).From), 0, image.SlotCounts[Of(at).Night]);

    /// <summary>Earliest end: of an ended shift its end, else the first moment at which it can.</summary>
    public int To(int at)
    {
        var shift = Of(at);
        var last = image.SlotCounts[shift.Night];
        if (kinds[at] == ShiftKind.Ended) return Math.Clamp(image.SlotAtOrAfter(shift.Night, shift.To), 0, last);
        return Math.Min(last, image.SlotAtOrAfter(shift.Night, image.Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)]));
    }

    public bool BreakBegun(int at) => Of(at).Break is { } rest && rest.From < image.Now;

    /// <summary>May a shift under way end there: within availability, lengths and rest?</summary>
    public bool MayEnd(int at, int end)
    {
        var shift = Of(at);
        var who = image.Problem.Crew[shift.Person];
        var minute = image.Minute(shift.Night, end);
        return Within(at, end) && minute - shift.From >= who.MinShift;
    }

    /// <summary>
    /// The earliest end is excused from what a later one would not mend; from the shortest length only where no longer shift
    /// keeps the others.
    /// </summary>
    public bool Excused(int at)
    {
        var (shift, end) = (Of(at), To(at));
        if (image.Minute(shift.Night, end) - shift.From >= image.Problem.Crew[shift.Person].MinShift) return true;
        for (var later = end; later <= image.SlotCounts[shift.Night]; later += image.Shifts.Step)
            if (MayEnd(at, later)) return false;
        return true;
    }

    private bool Within(int at, int end)
    {
        var shift = Of(at);
        var who = image.Problem.Crew[shift.Person];
        var minute = image.Minute(shift.Night, end);
        var withBreak = who.BreakAfter >= Problem.Never ? Problem.Never : 2 * who.BreakAfter + who.BreakMinutes;
        var most = Math.Min(who.MaxMinutesPerNight, withBreak);
        var joined = who.Commitments.Where(busy => busy.To <= shift.From && shift.From - busy.To <= who.Join)
            .Sum(busy => busy.Minutes);
        if (who.MaxShift < Problem.Never) most = Math.Min(most, who.MaxShift - joined);
        return minute - shift.From <= most
            && who.Windows[shift.Night].Any(window => window.From <= shift.From && minute <= window.To)
            && !who.Commitments.Any(busy => busy.To > shift.From && busy.From < minute + who.MinRest);
    }

    public bool BreakFits(int at, Draft draft, PersonNight personNight, int end, int extraFrom, int extraTo)
    {
        var shift = Of(at);
        var who = image.Problem.Crew[shift.Person];
        if (BreakBegun(at))
            return image.Minute(shift.Night, end) - shift.Break!.Value.To <= who.BreakAfter;
        return personNight.BreakFits(draft, shift.Person, shift.Night, Math.Max(From(at), 0), end, extraFrom, extraTo);
    }

    private void Keep(Shift shift, ShiftKind kind)
    {
        var at = shift.Person * image.Nights + shift.Night;
        (shifts[at], kinds[at]) = (shift, kind);
        // Who is on shift can work until the latest end that it may have; who has gone home cannot.
        var present = image.Shifts.Present.AsSpan(image.Row(shift.Person, shift.Night), image.Words);
        present.Clear();
        if (kind == ShiftKind.Ended) return;
        var latest = To(at);
        for (var end = latest; end <= image.SlotCounts[shift.Night]; end += image.Shifts.Step)
            if (MayEnd(at, end)) latest = end;
        var now = Math.Min(image.SlotAtOrAfter(shift.Night, image.Now), latest);
        Slots.Add(present, now, latest);
    }
}
