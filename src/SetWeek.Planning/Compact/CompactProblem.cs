using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// The problem as the search reads it: jobs, and a night's slots as bits. Slots count from their night's opens, so a night
/// that does not open on the first night's grid needs no special code. People are bits of one word: 64 at most.
/// </summary>
internal sealed class CompactProblem
{
    private const int MaxPeople = 64;

    /// <param name="problem">What is planned.</param>
    /// <param name="lateWork">Nights that are to be emptied; null: none.</param>
    public CompactProblem(Problem problem, LateWorkCriterion? lateWork = null)
    {
        if (problem.Crew.Count > MaxPeople)
            throw new ArgumentException($"A crew of {problem.Crew.Count} is beyond {MaxPeople}.", nameof(problem));
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
        MaxPeoplePerActivity = Math.Max(1, Activities.Max(activity => activity.Modes.Length == 0 ? 0 : activity.Modes.Max(mode => mode.Requirements.Length)));
        if (problem.Facts is { } facts)
            MaxPeoplePerActivity = Math.Max(MaxPeoplePerActivity, facts.BegunWork.OfType<ScheduledWork>().Concat(facts.BegunCleanDowns)
                .Select(work => work.Assignments.Count).DefaultIfEmpty(0).Max());
        FinalStints = [.. Activities.Where(activity => activity is { IsFinal: true, HasBegun: false }).OrderBy(activity => activity.TopologicalRank).Select(activity => activity.Index)];
        StintsByZone = [.. Enumerable.Range(0, Zones)
            .Select(zone => Activities.Where(activity => activity.Zone == zone && activity.CleanDownNight < 0).Select(activity => activity.Index).ToArray())];
        DisplayDecisions = DisplayDecision.Of(this);
    }

    public Problem Problem { get; }
    public LateWorkCriterion? LateWork { get; }

    /// <summary>Minutes a slot.</summary>
    public int SlotMinutes { get; }

    public int Nights { get; }
    public int People { get; }
    public int Zones { get; }
    public int Stints { get; }

    /// <summary>Minute before which nothing new starts.</summary>
    public int Now { get; }

    public int[] Opens { get; }

    /// <summary>By night: whole slots in it.</summary>
    public int[] SlotCounts { get; }

    /// <summary>Words of a night's row of bits.</summary>
    public int WordsPerNight { get; }

    /// <summary>Slots of a night's row of counts.</summary>
    public int PaddedSlotCount => WordsPerNight * 64;

    public FeasibleShifts FeasibleShifts { get; }
    public BegunShifts BegunShifts { get; }
    public int[] Keyholders { get; }
    public bool KeyholderPresent => Problem.Rules.KeyholderPresent;

    /// <summary>Slots that a keyholder is there before the first work, and after the last.</summary>
    public int OpeningSlots { get; }

    public int ClosingSlots { get; }
    public int MinPeople { get; }

    /// <summary>By night: slots between which work may lie for some keyholder to open and close.</summary>
    public int[] EarliestWorkSlot { get; }

    public int[] LatestWorkEnd { get; }

    public int[] Rates { get; }
    public double MeanRate { get; }

    /// <summary>By person: how much of the work would be theirs if all who can do it shared it, 1 on average.</summary>
    public double[] Versatility { get; }

    /// <summary>By night: slots of the nights before it.</summary>
    public int[] SlotsBefore { get; }

    public CompactActivity[] Activities { get; }

    public CompactPublishedPlan Published { get; }

    public int MaxPeoplePerActivity { get; }

    /// <summary>Stints of the task that comes after all else, in order.</summary>
    public int[] FinalStints { get; }

    /// <summary>By zone: its stints.</summary>
    public int[][] StintsByZone { get; }

    public DisplayDecision[] DisplayDecisions { get; }

    public int CleanDownIndex(int zone, int night) => Stints + zone * Nights + night;
    public int RowOffset(int person, int night) => (person * Nights + night) * WordsPerNight;
    public int MinuteAt(int night, int slot) => Opens[night] + slot * SlotMinutes;

    /// <summary>First slot that starts at or after a minute; may lie beyond the night.</summary>
    public int SlotAtOrAfter(int night, int minute) =>
        minute <= Opens[night] ? 0 : minute >= Problem.Never ? int.MaxValue / 2 : (minute - Opens[night] + SlotMinutes - 1) / SlotMinutes;

    /// <summary>
    /// Last slot boundary at or before a minute, at most the night's end; negative where the minute is before it opens.
    /// </summary>
    public int SlotAtOrBefore(int night, int minute) =>
        minute < Opens[night] ? -1 : Math.Min(SlotCounts[night], (minute - Opens[night]) / SlotMinutes);

    /// <summary>Gives a person a shift, or (-1, -1) none, and counts its pay.</summary>
    public void SetShift(PartialSchedule schedule, int person, int night, int from, int to)
    {
        var at = person * Nights + night;
        if (schedule.ShiftFrom[at] == from && schedule.ShiftTo[at] == to) return;
        schedule.PaidMinutes[person] += PaidMinutes(at, from, to) - PaidMinutes(at, schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        schedule.ShiftCount[person] += (from < 0 ? 0 : 1) - (schedule.ShiftFrom[at] < 0 ? 0 : 1);
        (schedule.ShiftFrom[at], schedule.ShiftTo[at]) = (from, to);
    }

    /// <summary>Minutes paid of a shift of a person and night, begun shifts by the times they were published with.</summary>
    private int PaidMinutes(int personNight, int from, int to)
    {
        if (from < 0) return 0;
        var (person, night) = (personNight / Nights, personNight % Nights);
        if (BegunShifts.State(personNight) == ShiftState.Ended) return BegunShifts.ShiftOf(personNight).PaidMinutes;
        var minutes = BegunShifts.State(personNight) == ShiftState.UnderWay ? MinuteAt(night, to) - BegunShifts.ShiftOf(personNight).From : (to - from) * SlotMinutes;
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
                var present = FeasibleShifts.PossiblePresence.AsSpan(RowOffset(person, night), WordsPerNight);
                if (SlotSet.First(present) is var begin && begin < 0) continue;
                first = Math.Min(first, begin);
                last = Math.Max(last, SlotSet.Last(present) + 1);
            }
            // A shift that has begun may have begun before now, when no new one may.
            if (Problem.Facts?.BegunShifts.Any(shift => shift.Night == night) == true) (first, last) = (0, SlotCounts[night] + 0);
            (from[night], to[night]) = last < 0 ? (0, 0) : (Math.Max(0, first + OpeningSlots), last - ClosingSlots);
        }
        return (from, to);
    }
}
