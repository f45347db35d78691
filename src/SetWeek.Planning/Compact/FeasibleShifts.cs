using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// Shifts that each person could have in each night on their own: by availability, lengths, and the rest and joining rules with
/// the person's commitments. A moment is a point of the shift grid, counted from the opening of the night.
/// </summary>
internal sealed class FeasibleShifts
{
    private readonly int[] latestEnds;
    private readonly bool[] mayEnd;
    private readonly int momentCount, nights;

    public FeasibleShifts(Problem problem, int[] slotCounts, int words)
    {
        var grid = problem.Grid.SlotMinutes;
        SlotsPerMoment = Lcm(grid, problem.ShiftGridMinutes) / grid;
        nights = problem.Nights.Count;
        var people = problem.Crew.Count;
        momentCount = slotCounts.Max() / SlotsPerMoment + 1;
        latestEnds = new int[people * nights * momentCount];
        mayEnd = new bool[people * nights * momentCount];
        PossiblePresence = new ulong[people * nights * words];
        PossibleWork = new ulong[people * nights * words];
        MinMoments = new int[people];
        MaxSlotsWithoutBreak = new int[people];
        BreakSlots = new int[people];
        BreakClearSlots = new int[people];
        BriefingSlots = new int[people];
        Array.Fill(latestEnds, -1);
        for (var person = 0; person < people; person++)
        {
            var member = problem.Crew[person];
            MinMoments[person] = Math.Max(1, (member.MinShift + SlotsPerMoment * grid - 1) / (SlotsPerMoment * grid));
            MaxSlotsWithoutBreak[person] = member.BreakAfter >= Problem.Never ? Problem.Never : member.BreakAfter / grid;
            BreakSlots[person] = member.BreakMinutes / grid;
            BreakClearSlots[person] = (member.BreakClear + grid - 1) / grid;
            BriefingSlots[person] = (member.Briefing + grid - 1) / grid;
            for (var night = 0; night < nights; night++)
            {
                AddLatestEnds(problem, member, night, slotCounts[night] / SlotsPerMoment);
                AddPresence(person, night, slotCounts[night] / SlotsPerMoment, 0,
                    PossiblePresence.AsSpan((person * nights + night) * words, words));
                AddPresence(person, night, slotCounts[night] / SlotsPerMoment, BriefingSlots[person],
                    PossibleWork.AsSpan((person * nights + night) * words, words));
            }
        }
    }

    /// <summary>Slots from one moment to the next.</summary>
    public int SlotsPerMoment { get; }

    /// <summary>By person: fewest moments of a shift.</summary>
    public int[] MinMoments { get; }

    /// <summary>By person: longest stretch without a break, in slots; <see cref="Problem.Never"/> without a break rule.</summary>
    public int[] MaxSlotsWithoutBreak { get; }

    /// <summary>By person: length of a break in slots.</summary>
    public int[] BreakSlots { get; }

    /// <summary>By person: least slots between a break and both ends of the shift.</summary>
    public int[] BreakClearSlots { get; }

    /// <summary>By person: first slots of a shift in which no work starts.</summary>
    public int[] BriefingSlots { get; }

    /// <summary>By person and night: bit set of the slots that some shift could cover after its briefing.</summary>
    public ulong[] PossibleWork { get; }

    /// <summary>By person and night: bit set of the slots that some shift could cover.</summary>
    public ulong[] PossiblePresence { get; }

    /// <summary>Last moment at which a shift that starts at this moment may end; -1: no shift may start here.</summary>
    public int LatestEnd(int person, int night, int moment) => latestEnds[(person * nights + night) * momentCount + moment];

    /// <summary>May a shift end at this moment, by the rest before the person's next commitment?</summary>
    public bool MayEnd(int person, int night, int moment) => mayEnd[(person * nights + night) * momentCount + moment];

    private void AddLatestEnds(Problem problem, Person person, int night, int last)
    {
        var row = (person.Index * nights + night) * momentCount;
        var length = SlotsPerMoment * problem.Grid.SlotMinutes;
        var opens = problem.Nights[night].Opens;
        // A shift has one break, so it holds two stretches without a break at most.
        var maxLength = person.BreakAfter >= Problem.Never ? Problem.Never : 2 * person.BreakAfter + person.BreakMinutes;
        maxLength = Math.Min(maxLength, person.MaxMinutesPerNight);
        var now = problem.Facts?.Now ?? -Problem.Never;
        var pins = problem.Pins.Shifts.Where(pin => (pin.Person, pin.Night) == (person.Index, night)).ToArray();
        if (pins.Any(pin => pin.Off)) return;
        foreach (var window in person.ShiftWindows[night])
            for (var moment = 0; moment <= last; moment++)
            {
                var minute = opens + moment * length;
                if (minute < window.From || minute >= window.To || minute < now) continue;
                if (pins.Any(pin => pin.From >= now && pin.From != minute)) continue;
                if (LatestEndFrom(person, minute, maxLength) is not { } latestEnd) continue;
                latestEnds[row + moment] = Math.Max(latestEnds[row + moment], (Math.Min(window.To, latestEnd) - opens) / length);
            }
        for (var moment = 0; moment <= last; moment++)
        {
            var minute = opens + moment * length;
            mayEnd[row + moment] = pins.All(pin => pin.To is not { } to || to <= now || to == minute)
                && !person.Commitments.Any(busy => busy.From >= minute && busy.From - minute < person.MinRest);
            if (latestEnds[row + moment] > last) latestEnds[row + moment] = last;
        }
    }

    /// <summary>
    /// Latest end of a shift that starts at a minute, by commitments and lengths; null: no shift may start then.
    /// </summary>
    private static int? LatestEndFrom(Person person, int minute, int maxLength)
    {
        var (joined, next) = (0, Problem.Never);
        foreach (var busy in person.Commitments)
        {
            if (busy.From >= minute) next = Math.Min(next, busy.From);
            else if (busy.To > minute) return null;
            else if (minute - busy.To <= person.JoinMinutes) joined += busy.Minutes;
            else if (minute - busy.To < person.MinRest) return null;
        }
        var longest = Math.Min(maxLength, person.MaxShift >= Problem.Never ? Problem.Never : person.MaxShift - joined);
        return longest >= Problem.Never ? next : Math.Min(next, minute + longest);
    }

    /// <summary>Adds the slots of all possible shifts, without the first slots of each that are to be skipped.</summary>
    private void AddPresence(int person, int night, int last, int skipped, Span<ulong> presence)
    {
        for (var from = 0; from <= last; from++)
        {
            var to = Math.Min(last, LatestEnd(person, night, from));
            while (to >= from + MinMoments[person] && !MayEnd(person, night, to)) to--;
            if (to >= from + MinMoments[person])
                SlotSet.Add(presence, Math.Min(from * SlotsPerMoment + skipped, to * SlotsPerMoment), to * SlotsPerMoment);
        }
    }

    private static int Lcm(int first, int second)
    {
        var (divisor, remainder) = (first, second);
        while (remainder != 0) (divisor, remainder) = (remainder, divisor % remainder);
        return first / divisor * second;
    }
}
