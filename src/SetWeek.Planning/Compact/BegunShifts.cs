using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>State of a person's shift in a night at the time of a re-plan.</summary>
internal enum ShiftState : byte
{
    /// <summary>No shift, or one that can still be planned.</summary>
    NotBegun,

    /// <summary>Cannot change any more.</summary>
    Ended,

    /// <summary>The start is fixed; the end can be planned, at or after now.</summary>
    UnderWay,
}

/// <summary>Shifts that have begun by the time of a re-plan, by person and night, and how they may still end.</summary>
internal sealed class BegunShifts
{
    private readonly CompactProblem compact;
    private readonly ScheduledShift?[] shifts;
    private readonly ShiftState[] states;

    public BegunShifts(CompactProblem compact)
    {
        this.compact = compact;
        shifts = new ScheduledShift?[compact.People * compact.Nights];
        NightsUnderWay = new bool[compact.Nights];
        states = new ShiftState[shifts.Length];
        if (compact.Problem.Facts is not { } facts) return;
        foreach (var shift in facts.EndedShifts) Add(shift, ShiftState.Ended);
        foreach (var shift in facts.BegunShifts) Add(shift, ShiftState.UnderWay);
    }

    /// <summary>By night: some shift has begun or is over.</summary>
    public bool[] NightsUnderWay { get; }

    public ShiftState State(int personNight) => states[personNight];
    public ScheduledShift ShiftOf(int personNight) => shifts[personNight]!;

    public int StartSlot(int personNight)
    {
        var shift = ShiftOf(personNight);
        return Math.Clamp(compact.SlotAtOrBefore(shift.Night, shift.From), 0, compact.SlotCounts[shift.Night]);
    }

    /// <summary>Slot of the end of an ended shift; otherwise the earliest slot at which the shift can end.</summary>
    public int EarliestEndSlot(int personNight)
    {
        var shift = ShiftOf(personNight);
        var last = compact.SlotCounts[shift.Night];
        if (states[personNight] == ShiftState.Ended)
            return Math.Clamp(compact.SlotAtOrAfter(shift.Night, shift.To), 0, last);
        var earliestEnd = compact.Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)];
        return Math.Min(last, compact.SlotAtOrAfter(shift.Night, earliestEnd));
    }

    public bool BreakBegun(int personNight) => ShiftOf(personNight).Break is { } rest && rest.From < compact.Now;

    /// <summary>May a shift under way end at this slot, by availability, lengths and rest?</summary>
    public bool MayEnd(int personNight, int end)
    {
        var shift = ShiftOf(personNight);
        return EndKeepsRules(personNight, end)
            && compact.MinuteAt(shift.Night, end) - shift.From >= compact.Problem.Crew[shift.Person].MinShift;
    }

    /// <summary>
    /// May the shift end at its earliest end although that breaks a rule? Yes if a later end would not repair it. A shift below
    /// the minimum length may end early only if no later end keeps the other rules.
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
        var person = compact.Problem.Crew[shift.Person];
        var minute = compact.MinuteAt(shift.Night, end);
        // A shift has one break, so it holds two stretches without a break at most.
        var maxWithBreak = person.BreakAfter >= Problem.Never ? Problem.Never : 2 * person.BreakAfter + person.BreakMinutes;
        var maxLength = Math.Min(person.MaxMinutesPerNight, maxWithBreak);
        var joinedMinutes = person.Commitments.Where(busy => busy.To <= shift.From && shift.From - busy.To <= person.JoinMinutes)
            .Sum(busy => busy.Minutes);
        if (person.MaxShift < Problem.Never) maxLength = Math.Min(maxLength, person.MaxShift - joinedMinutes);
        return minute - shift.From <= maxLength && KeepsPin(shift, minute)
            && person.ShiftWindows[shift.Night].Any(window => window.From <= shift.From && minute <= window.To)
            && !person.Commitments.Any(busy => busy.To > shift.From && busy.From < minute + person.MinRest);
    }

    /// <summary>Does this end agree with the pins of the shift, where it is not too late for their end?</summary>
    private bool KeepsPin(ScheduledShift shift, int minute) => compact.Problem.Pins.Shifts.All(pin =>
        (pin.Person, pin.Night) != (shift.Person, shift.Night) || pin.To is not { } to || to == minute || to <= compact.Now
        || compact.Problem.Facts!.EarliestEnds[(shift.Person, shift.Night)] > to);

    /// <summary>
    /// Does a shift under way that ends at this slot keep the break rule, with work in [addedFrom, addedTo) in addition?
    /// </summary>
    public bool BreakFits(
        int personNight, PartialSchedule schedule, ShortestShift shortestShift, int end, int addedFrom, int addedTo)
    {
        var shift = ShiftOf(personNight);
        if (BreakBegun(personNight))
            return compact.MinuteAt(shift.Night, end) - shift.Break!.Value.To <= compact.Problem.Crew[shift.Person].BreakAfter;
        return shortestShift.BreakFits(
            schedule, shift.Person, shift.Night, Math.Max(StartSlot(personNight), 0), end, addedFrom, addedTo);
    }

    private void Add(ScheduledShift shift, ShiftState state)
    {
        var at = shift.Person * compact.Nights + shift.Night;
        (shifts[at], states[at]) = (shift, state);
        // The person of a shift under way can be present until its latest end; the person of an ended shift has gone home.
        var presence = compact.FeasibleShifts.PossiblePresence
            .AsSpan(compact.RowOffset(shift.Person, shift.Night), compact.WordsPerNight);
        presence.Clear();
        NightsUnderWay[shift.Night] = true;
        if (state == ShiftState.Ended) return;
        var latest = EarliestEndSlot(at);
        for (var end = latest; end <= compact.SlotCounts[shift.Night]; end += compact.FeasibleShifts.SlotsPerMoment)
            if (MayEnd(at, end)) latest = end;
        var now = Math.Min(compact.SlotAtOrAfter(shift.Night, compact.Now), latest);
        SlotSet.Add(presence, now, latest);
        presence.CopyTo(compact.FeasibleShifts.PossibleWork.AsSpan(compact.RowOffset(shift.Person, shift.Night)));
    }
}
