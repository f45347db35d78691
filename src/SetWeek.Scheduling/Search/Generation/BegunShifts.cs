namespace SetWeek.Scheduling.Search.Generation;

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
        if (kinds[at] == ShiftKind.Ended) return Math.Clamp(image.SlotAtOrAfter(shift.Night, shift.To), 0, image.SlotCounts[shift.Night]);
        return Math.Min(image.SlotCounts[shift.Night], image.SlotAtOrAfter(shift.Night, image.Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)]));
    }

    public bool BreakBegun(int at) => Of(at).Break is { } rest && rest.From < image.Now;

    /// <summary>
    /// May a shift under way end there? Within availability, lengths and rest; one that can only end at the first moment
    /// after now is excused.
    /// </summary>
    public bool MayEnd(int at, int end)
    {
        if (end == To(at)) return true;
        var shift = Of(at);
        var who = image.Problem.Crew[shift.Person];
        var minute = image.Minute(shift.Night, end);
        var most = Math.Min(who.MaxMinutesPerNight, who.BreakAfter >= Problem.Never ? Problem.Never : 2 * who.BreakAfter + who.BreakMinutes);
        var joined = who.Commitments.Where(busy => busy.To <= shift.From && shift.From - busy.To <= who.Join).Sum(busy => busy.Minutes);
        if (who.MaxShift < Problem.Never) most = Math.Min(most, who.MaxShift - joined);
        return minute - shift.From <= most && minute - shift.From >= who.MinShift
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
    }
}
