using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// What each person's shift may be in each night before any other is known: availability, commitments with the rest and
/// the joining they bring, longest lengths. Moments are those of the shift grid, counted from the night's opens.
/// </summary>
internal sealed class ShiftTable
{
    private readonly int[] limits;
    private readonly bool[] mayEnd;
    private readonly int width, nights;

    public ShiftTable(Problem problem, int[] slotCounts, int words)
    {
        var grid = problem.Grid.Minutes;
        Step = Lcm(grid, problem.ShiftGrid) / grid;
        nights = problem.Nights.Count;
        var people = problem.Crew.Count;
        width = slotCounts.Max() / Step + 1;
        limits = new int[people * nights * width];
        mayEnd = new bool[people * nights * width];
        Present = new ulong[people * nights * words];
        MinMoments = new int[people];
        MaxStretch = new int[people];
        BreakSlots = new int[people];
        Array.Fill(limits, -1);
        for (var person = 0; person < people; person++)
        {
            var who = problem.Crew[person];
            MinMoments[person] = Math.Max(1, (who.MinShift + Step * grid - 1) / (Step * grid));
            MaxStretch[person] = who.BreakAfter >= Problem.Never ? Problem.Never : who.BreakAfter / grid;
            BreakSlots[person] = who.BreakMinutes / grid;
            for (var night = 0; night < nights; night++)
            {
                Fill(problem, who, night, slotCounts[night] / Step);
                Attend(person, night, slotCounts[night] / Step, Present.AsSpan((person * nights + night) * words, words));
            }
        }
    }

    /// <summary>Slots from one moment to the next.</summary>
    public int Step { get; }

    /// <summary>By person: fewest moments of a shift.</summary>
    public int[] MinMoments { get; }

    /// <summary>By person: most slots without a break.</summary>
    public int[] MaxStretch { get; }

    public int[] BreakSlots { get; }

    /// <summary>By person and night: slots in which some shift could be.</summary>
    public ulong[] Present { get; }

    /// <summary>Last moment at which a shift from here may end; -1: none may start here.</summary>
    public int Limit(int person, int night, int moment) => limits[(person * nights + night) * width + moment];

    public bool MayEnd(int person, int night, int moment) => mayEnd[(person * nights + night) * width + moment];

    private void Fill(Problem problem, Person who, int night, int last)
    {
        var row = (who.Index * nights + night) * width;
        var length = Step * problem.Grid.Minutes;
        var opens = problem.Nights[night].Opens;
        var most = who.BreakAfter >= Problem.Never ? Problem.Never : 2 * who.BreakAfter + who.BreakMinutes;
        most = Math.Min(most, who.MaxMinutesPerNight);
        foreach (var window in who.Windows[night])
            for (var moment = 0; moment <= last; moment++)
            {
                var minute = opens + moment * length;
                if (minute < window.From || minute >= window.To || minute < (problem.Facts?.Now ?? minute)) continue;
                if (Reach(who, minute, most) is not { } reach) continue;
                limits[row + moment] = Math.Max(limits[row + moment], (Math.Min(window.To, reach) - opens) / length);
            }
        for (var moment = 0; moment <= last; moment++)
        {
            var minute = opens + moment * length;
            mayEnd[row + moment] = !who.Commitments.Any(busy => busy.From >= minute && busy.From - minute < who.MinRest);
            if (limits[row + moment] > last) limits[row + moment] = last;
        }
    }

    /// <summary>
    /// Minute by which a shift that starts at one has ended, for commitments and lengths; null: it may not start.
    /// </summary>
    private static int? Reach(Person who, int minute, int most)
    {
        var (joined, next) = (0, Problem.Never);
        foreach (var busy in who.Commitments)
        {
            if (busy.From >= minute) next = Math.Min(next, busy.From);
            else if (busy.To > minute) return null;
            else if (minute - busy.To <= who.Join) joined += busy.Minutes;
            else if (minute - busy.To < who.MinRest) return null;
        }
        var longest = Math.Min(most, who.MaxShift >= Problem.Never ? Problem.Never : who.MaxShift - joined);
        return longest >= Problem.Never ? next : Math.Min(next, minute + longest);
    }

    private void Attend(int person, int night, int last, Span<ulong> present)
    {
        for (var from = 0; from <= last; from++)
        {
            var to = Math.Min(last, Limit(person, night, from));
            while (to >= from + MinMoments[person] && !MayEnd(person, night, to)) to--;
            if (to >= from + MinMoments[person]) Slots.Add(present, from * Step, to * Step);
        }
    }

    private static int Lcm(int one, int other)
    {
        var (a, b) = (one, other);
        while (b != 0) (a, b) = (b, a % b);
        return one / a * other;
    }
}
