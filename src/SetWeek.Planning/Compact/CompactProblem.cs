using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// The problem in the form of the heuristic search: flat arrays, and bit sets of slots and people. Slots count from the opening
/// of their night, so nights need no common grid. A set of people is one word, so a crew has at most 64 people.
/// </summary>
internal sealed class CompactProblem
{
    private const int MaxPeople = 64;

    /// <param name="problem">The problem.</param>
    /// <param name="lateWork">Late work to minimise in place of the goal nights; null: none.</param>
    /// <exception cref="ArgumentException">The crew has more than 64 people.</exception>
    public CompactProblem(Problem problem, LateWorkCriterion? lateWork = null)
    {
        if (problem.Crew.Count > MaxPeople)
            throw new ArgumentException(
                $"The crew has {problem.Crew.Count} people; at most {MaxPeople} can be planned.", nameof(problem));
        (Problem, LateWork) = (problem, lateWork);
        SlotMinutes = problem.Grid.SlotMinutes;
        Nights = problem.Nights.Count;
        People = problem.Crew.Count;
        Zones = problem.Zones.Count;
        Stints = problem.Stints.Count;
        Now = problem.Facts?.Now ?? -Problem.Never;
        Opens = [.. problem.Nights.Select(night => night.Opens)];
        SlotCounts = [.. problem.Nights.Select(night => (night.Closes - night.Opens) / SlotMinutes)];
        WordsPerNight = (SlotCounts.Max() + 63) / 64;
        FeasibleShifts = new FeasibleShifts(problem, SlotCounts, WordsPerNight);
        BegunShifts = new BegunShifts(this);
        Keyholders = [.. problem.Crew.Where(person => person.Keyholder).Select(person => person.Index)];
        OpeningSlots = problem.Rules.KeyholderPresent ? (problem.Rules.OpeningMinutes ?? 0) : 0;
        ClosingSlots = problem.Rules.KeyholderPresent ? (problem.Rules.ClosingMinutes ?? 0) : 0;
        OpeningSlots = (OpeningSlots + SlotMinutes - 1) / SlotMinutes;
        ClosingSlots = (ClosingSlots + SlotMinutes - 1) / SlotMinutes;
        MinPeople = problem.Rules.MinPeople ?? 0;
        (EarliestWorkSlot, LatestWorkEnd) = WorkWindows();
        Rates = [.. problem.Crew.Select(person => person.Rate)];
        MeanRate = Rates.DefaultIfEmpty(1).Average();
        SlotsBefore = [.. Enumerable.Range(0, Nights).Select(night => SlotCounts.Take(night).Sum())];
        Activities = new CompactActivityBuilder(this).Activities;
        Published = new CompactPublishedPlan(this);
        Versatility = VersatilityByPerson();
        MaxPeoplePerActivity = Math.Max(1, Activities
            .Max(activity => activity.Modes.Length == 0 ? 0 : activity.Modes.Max(mode => mode.Requirements.Length)));
        if (problem.Facts is { } facts)
        {
            var begunWork = facts.BegunWork.OfType<ScheduledWork>().Concat(facts.BegunCleanDowns);
            MaxPeoplePerActivity = Math.Max(MaxPeoplePerActivity,
                begunWork.Select(work => work.Assignments.Count).DefaultIfEmpty(0).Max());
        }
        FinalStints = [.. Activities.Where(activity => activity is { IsFinal: true, HasBegun: false })
            .OrderBy(activity => activity.TopologicalRank).Select(activity => activity.Index)];
        StintsByZone = [.. Enumerable.Range(0, Zones)
            .Select(zone => Activities.Where(activity => activity.Zone == zone && activity.CleanDownNight < 0)
                .Select(activity => activity.Index).ToArray())];
        StintsWithCompany = [.. Activities.Where(activity => activity is { Company: > 0, HasBegun: false })
            .Select(activity => activity.Index)];
        DisplayDecisions = DisplayDecision.Of(this);
    }

    public Problem Problem { get; }
    public LateWorkCriterion? LateWork { get; }

    /// <summary>Length of a slot.</summary>
    public int SlotMinutes { get; }

    public int Nights { get; }
    public int People { get; }
    public int Zones { get; }
    public int Stints { get; }

    /// <summary>Minute of the re-plan, before which nothing new starts.</summary>
    public int Now { get; }

    /// <summary>By night: minute at which it opens.</summary>
    public int[] Opens { get; }

    /// <summary>By night: number of whole slots.</summary>
    public int[] SlotCounts { get; }

    /// <summary>Words of a night's bit set of slots.</summary>
    public int WordsPerNight { get; }

    /// <summary>Slots of a night's row of counts: a multiple of 64.</summary>
    public int PaddedSlotCount => WordsPerNight * 64;

    public FeasibleShifts FeasibleShifts { get; }
    public BegunShifts BegunShifts { get; }
    public int[] Keyholders { get; }

    /// <summary>True: a keyholder must be present whenever anyone is.</summary>
    public bool KeyholderPresent => Problem.Rules.KeyholderPresent;

    /// <summary>Slots for which a keyholder must be present before the first work.</summary>
    public int OpeningSlots { get; }

    /// <summary>Slots for which a keyholder must be present after the last work.</summary>
    public int ClosingSlots { get; }

    /// <summary>Fewest people present while anyone is.</summary>
    public int MinPeople { get; }

    /// <summary>By night: first slot of work for which some keyholder could open the night.</summary>
    public int[] EarliestWorkSlot { get; }

    /// <summary>By night: last end of work after which some keyholder could close the night.</summary>
    public int[] LatestWorkEnd { get; }

    /// <summary>By person: minor units of money an hour.</summary>
    public int[] Rates { get; }

    public double MeanRate { get; }

    /// <summary>
    /// By person: expected demand for them, if all eligible people shared each activity equally; 1 on average.
    /// </summary>
    public double[] Versatility { get; }

    /// <summary>By night: number of slots of all nights before it.</summary>
    public int[] SlotsBefore { get; }

    public CompactActivity[] Activities { get; }

    public CompactPublishedPlan Published { get; }

    /// <summary>Length of an activity's row in <see cref="PartialSchedule.Assigned"/>.</summary>
    public int MaxPeoplePerActivity { get; }

    /// <summary>Stints of the last task that have not begun, in order.</summary>
    public int[] FinalStints { get; }

    /// <summary>By zone: its stints.</summary>
    public int[][] StintsByZone { get; }

    /// <summary>Stints that have not begun and need company in their zone.</summary>
    public int[] StintsWithCompany { get; }

    public DisplayDecision[] DisplayDecisions { get; }

    /// <summary>Index of the activity that is the zone's clean-down in the night.</summary>
    public int CleanDownIndex(int zone, int night) => Stints + zone * Nights + night;
    public int RowOffset(int person, int night) => (person * Nights + night) * WordsPerNight;
    public int MinuteAt(int night, int slot) => Opens[night] + slot * SlotMinutes;

    /// <summary>First slot that starts at or after a minute; it may lie beyond the night.</summary>
    public int SlotAtOrAfter(int night, int minute) =>
        minute <= Opens[night] ? 0
        : minute >= Problem.Never ? int.MaxValue / 2
        : (minute - Opens[night] + SlotMinutes - 1) / SlotMinutes;

    /// <summary>
    /// Last slot boundary at or before a minute, at most the night's end; -1 if the night opens after the minute.
    /// </summary>
    public int SlotAtOrBefore(int night, int minute) =>
        minute < Opens[night] ? -1 : Math.Min(SlotCounts[night], (minute - Opens[night]) / SlotMinutes);

    /// <summary>Gives a person a shift in slots, or none by (-1, -1); updates paid minutes and the number of shifts.</summary>
    public void SetShift(PartialSchedule schedule, int person, int night, int from, int to)
    {
        var at = person * Nights + night;
        if (schedule.ShiftFrom[at] == from && schedule.ShiftTo[at] == to) return;
        schedule.PaidMinutes[person] += PaidMinutes(at, from, to) - PaidMinutes(at, schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        schedule.ShiftCount[person] += (from < 0 ? 0 : 1) - (schedule.ShiftFrom[at] < 0 ? 0 : 1);
        (schedule.ShiftFrom[at], schedule.ShiftTo[at]) = (from, to);
    }

    /// <summary>Paid minutes of a shift in slots. Begun shifts have a published start, which may lie off the grid.</summary>
    private int PaidMinutes(int personNight, int from, int to)
    {
        if (from < 0) return 0;
        var (person, night) = (personNight / Nights, personNight % Nights);
        var state = BegunShifts.State(personNight);
        if (state == ShiftState.Ended) return BegunShifts.ShiftOf(personNight).PaidMinutes;
        var minutes = state == ShiftState.UnderWay
            ? MinuteAt(night, to) - BegunShifts.ShiftOf(personNight).From : (to - from) * SlotMinutes;
        return minutes > Problem.Crew[person].BreakAfter ? minutes - Problem.Crew[person].BreakMinutes : minutes;
    }

    private double[] VersatilityByPerson()
    {
        var demand = new double[People];
        foreach (var activity in Activities)
            if (activity.CleanDownNight < 0 && activity.Modes.Length > 0)
                foreach (var requirement in activity.Modes[0].Requirements)
                    for (var person = 0; person < People; person++)
                        if ((requirement.Eligible & 1UL << person) != 0)
                            demand[person] += (double)activity.Modes[0].DurationMinutes / ulong.PopCount(requirement.Eligible);
        var mean = Math.Max(1, demand.DefaultIfEmpty(1).Average());
        return [.. demand.Select(minutes => minutes / mean)];
    }

    private (int[] From, int[] To) WorkWindows()
    {
        var (from, to) = (new int[Nights], (int[])SlotCounts.Clone());
        if (!KeyholderPresent) return (from, to);
        for (var night = 0; night < Nights; night++)
        {
            var (first, last) = (int.MaxValue, -1);
            foreach (var person in Keyholders)
            {
                var presence = FeasibleShifts.PossiblePresence.AsSpan(RowOffset(person, night), WordsPerNight);
                if (SlotSet.First(presence) is var begin && begin < 0) continue;
                first = Math.Min(first, begin);
                last = Math.Max(last, SlotSet.Last(presence) + 1);
            }
            // Presence counts from now on, but a keyholder whose shift has begun may have opened the night before.
            if (Problem.Facts?.BegunShifts.Any(shift => shift.Night == night) == true) (first, last) = (0, SlotCounts[night]);
            (from[night], to[night]) = last < 0 ? (0, 0) : (Math.Max(0, first + OpeningSlots), last - ClosingSlots);
        }
        return (from, to);
    }
}
