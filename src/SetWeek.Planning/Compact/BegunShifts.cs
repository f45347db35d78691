using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Open: to be planned. Ended: stays whole. Under way: its from stays, its to is at or after now.</summary>
internal enum ShiftState : byte { NotBegun, Ended, UnderWay }

/// <summary>In a re-plan: shifts that have begun, by person and night, and what may still be chosen of them.</summary>
internal sealed class BegunShifts
{
    private readonly CompactProblem compact;
    private readonly ScheduledShift?[] shifts;
    private readonly ShiftState[] states;

    public BegunShifts(CompactProblem compact)
    {
        this.compact = compact;
        shifts = new ScheduledShift?[compact.People * compact.Nights];
        states = new ShiftState[shifts.Length];
        if (compact.Problem.Facts is not { } facts) return;
        foreach (var shift in facts.EndedShifts) Add(shift, ShiftState.Ended);
        foreach (var shift in facts.BegunShifts) Add(shift, ShiftState.UnderWay);
    }

    public ShiftState State(int personNight) => states[personNight];
    public ScheduledShift ShiftOf(int personNight) => shifts[personNight]!;

    public int StartSlot(int personNight) => Math.Clamp(compact.SlotAtOrBefore(ShiftOf(personNight).Night, ShiftOf(personNight).From), 0, compact.SlotCounts[ShiftOf(personNight).Night]);

    /// <summary>Earliest end: of an ended shift its end, else the first moment at which it can.</summary>
    public int EarliestEndSlot(int personNight)
    {
        var shift = ShiftOf(personNight);
        var last = compact.SlotCounts[shift.Night];
        if (states[personNight] == ShiftState.Ended) return Math.Clamp(compact.SlotAtOrAfter(shift.Night, shift.To), 0, last);
        return Math.Min(last, compact.SlotAtOrAfter(shift.Night, compact.Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)]));
    }

    public bool BreakBegun(int personNight) => ShiftOf(personNight).Break is { } rest && rest.From < compact.Now;

    /// <summary>May a shift under way end there: within availability, lengths and rest?</summary>
    public bool MayEnd(int personNight, int end)
    {
        var shift = ShiftOf(personNight);
        var who = compact.Problem.Crew[shift.Person];
        var minute = compact.MinuteAt(shift.Night, end);
        return EndKeepsRules(personNight, end) && minute - shift.From >= who.MinShift;
    }

    /// <summary>
    /// The earliest end is excused from what a later one would not mend; from the shortest length only where no longer shift
    /// keeps the others.
    /// </summary>
    public bool IsEarliestEndExempt(int personNight)
    {
        var (shift, end) = (ShiftOf(personNight), EarliestEndSlot(personNight));
        if (compact.MinuteAt(shift.Night, end) - shift.From >= compact.Problem.Crew[shift.Person].MinShift) return true;
        for (var later = end; later <= compact.SlotCounts[shift.Night]; later += compact.FeasibleShifts.SlotsPerMoment)
            if (MayEnd(personNight, later)) return false;
        return true;
    }

    private bool EndKeepsRules(int personNight, int end)
    {
        var shift = ShiftOf(personNight);
        var who = compact.Problem.Crew[shift.Person];
        var minute = compact.MinuteAt(shift.Night, end);
        var withBreak = who.BreakAfter >= Problem.Never ? Problem.Never : 2 * who.BreakAfter + who.BreakMinutes;
        var most = Math.Min(who.MaxMinutesPerNight, withBreak);
        var joined = who.Commitments.Where(busy => busy.To <= shift.From && shift.From - busy.To <= who.JoinMinutes)
            .Sum(busy => busy.Minutes);
        if (who.MaxShift < Problem.Never) most = Math.Min(most, who.MaxShift - joined);
        return minute - shift.From <= most
            && who.ShiftWindows[shift.Night].Any(window => window.From <= shift.From && minute <= window.To)
            && !who.Commitments.Any(busy => busy.To > shift.From && busy.From < minute + who.MinRest);
    }

    public bool BreakFits(int personNight, PartialSchedule schedule, ShortestShift shortestShift, int end, int addedFrom, int addedTo)
    {
        var shift = ShiftOf(personNight);
        var who = compact.Problem.Crew[shift.Person];
        if (BreakBegun(personNight))
            return compact.MinuteAt(shift.Night, end) - shift.Break!.Value.To <= who.BreakAfter;
        return shortestShift.BreakFits(schedule, shift.Person, shift.Night, Math.Max(StartSlot(personNight), 0), end, addedFrom, addedTo);
    }

    private void Add(ScheduledShift shift, ShiftState state)
    {
        var at = shift.Person * compact.Nights + shift.Night;
        (shifts[at], states[at]) = (shift, state);
        // Who is on shift can work until the latest end that it may have; who has gone home cannot.
        var present = compact.FeasibleShifts.PossiblePresence.AsSpan(compact.RowOffset(shift.Person, shift.Night), compact.WordsPerNight);
        present.Clear();
        if (state == ShiftState.Ended) return;
        var latest = EarliestEndSlot(at);
        for (var end = latest; end <= compact.SlotCounts[shift.Night]; end += compact.FeasibleShifts.SlotsPerMoment)
            if (MayEnd(at, end)) latest = end;
        var now = Math.Min(compact.SlotAtOrAfter(shift.Night, compact.Now), latest);
        SlotSet.Add(present, now, latest);
    }
}
