using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>The published plan as the search compares with it, in a re-plan.</summary>
internal sealed class CompactPublishedPlan
{
    private readonly CompactProblem compact;
    private readonly int[] nights, starts;
    private readonly ulong[] people;
    private readonly ScheduledShift?[] shifts;
    private readonly (int From, int To)[] shiftsToKeep;
    private readonly int noticeEnds;
    private readonly double changePrice;

    public CompactPublishedPlan(CompactProblem compact)
    {
        this.compact = compact;
        (nights, starts) = (new int[compact.Activities.Length], new int[compact.Activities.Length]);
        people = new ulong[compact.Activities.Length];
        shifts = new ScheduledShift?[compact.People * compact.Nights];
        shiftsToKeep = new (int, int)[shifts.Length];
        ReleasedShifts = new bool[shifts.Length];
        Array.Fill(nights, -1);
        Array.Fill(starts, -1);
        Array.Fill(shiftsToKeep, (-1, -1));
        if (compact.Problem.Facts is not { } facts) return;
        noticeEnds = compact.Now + (compact.Problem.Rules.NoticeMinutes ?? -Problem.Never);
        changePrice = InsertionPrices.For(compact.Problem).Change;
        foreach (var work in facts.Published.Work) AddWork(work);
        foreach (var shift in facts.Published.Shifts)
        {
            var at = shift.Person * compact.Nights + shift.Night;
            var opens = compact.Opens[shift.Night];
            shifts[at] = shift;
            if (changePrice <= 0 || (shift.To - opens) % compact.SlotMinutes != 0) continue;
            if (compact.BegunShifts.State(at) == ShiftState.UnderWay) shiftsToKeep[at] = (compact.BegunShifts.StartSlot(at), (shift.To - opens) / compact.SlotMinutes);
            else if (shift.From >= compact.Now
                && (shift.From - opens) % compact.SlotMinutes == 0)
                shiftsToKeep[at] = ((shift.From - opens) / compact.SlotMinutes, (shift.To - opens) / compact.SlotMinutes);
        }
    }

    /// <summary>What a change is taken to cost while rosters are compared; 0 where changes come after cost.</summary>
    public double ChangePrice => AllShiftsReleased ? 0 : changePrice;

    /// <summary>The night that a stint was published in; -1: none.</summary>
    public int NightOf(int activity) => nights[activity];

    /// <summary>
    /// Slot that a job was published at, in its night; -1: none. Clean-downs have one too, in the night that they are of.
    /// </summary>
    public int StartSlotOf(int activity) => starts[activity];

    /// <summary>Was that person published as one of those at work on it?</summary>
    public bool HasPerson(int activity, int person) => (people[activity] & 1UL << person) != 0;

    /// <summary>Jobs at another time, or with other people, than published: nothing that a goal counts, and yet a nuisance.</summary>
    public int ReshuffledWork(PartialSchedule schedule)
    {
        var count = 0;
        for (var activity = 0; activity < starts.Length; activity++)
        {
            if (starts[activity] < 0 || schedule.Night[activity] < 0) continue;
            if (schedule.StartSlot[activity] != starts[activity] || activity < compact.Stints && schedule.Night[activity] != nights[activity]) count++;
            foreach (var person in schedule.PeopleOf(activity))
                if (!HasPerson(activity, person)) { count++; break; }
        }
        return count;
    }

    /// <summary>The shift published for a person and night, in slots, where it should stay; (-1, -1) elsewhere.</summary>
    public (int From, int To) ShiftToKeep(int personNight) => AllShiftsReleased || ReleasedShifts[personNight] ? (-1, -1) : shiftsToKeep[personNight];

    /// <summary>By person and night: the published shift need not stay, for now.</summary>
    public bool[] ReleasedShifts { get; }

    /// <summary>None of them need stay, for now: a plan is made as if none had been published.</summary>
    public bool AllShiftsReleased { get; set; }

    /// <summary>What the shift of a person and night adds to the changes.</summary>
    public int ShiftChanges(PartialSchedule schedule, int personNight)
    {
        var (old, from) = (shifts[personNight], schedule.ShiftFrom[personNight]);
        if (old is null && from < 0) return 0;
        var begins = from < 0 ? Problem.Never
            : compact.BegunShifts.State(personNight) == ShiftState.NotBegun ? compact.MinuteAt(personNight % compact.Nights, from) : compact.BegunShifts.ShiftOf(personNight).From;
        var change = 2;
        if (old is not null && from >= 0)
        {
            var ends = compact.BegunShifts.State(personNight) == ShiftState.Ended ? old.To : compact.MinuteAt(personNight % compact.Nights, schedule.ShiftTo[personNight]);
            change = begins == old.From && ends == old.To ? 0 : 1;
        }
        return Math.Min(begins, old?.From ?? Problem.Never) < noticeEnds ? 3 * change : change;
    }

    private void AddWork(ScheduledWork work)
    {
        var activity = work.Stint ?? (compact.Problem.Zones[work.Zone].CleanDown is null ? -1 : compact.CleanDownIndex(work.Zone, work.Night));
        if (activity < 0) return;
        if (work.Stint is not null) nights[activity] = work.Night;
        foreach (var assignment in work.Assignments) people[activity] |= 1UL << assignment.Person;
        var minutes = work.From - compact.Opens[work.Night];
        if (work.From >= compact.Now && minutes % compact.SlotMinutes == 0 && minutes / compact.SlotMinutes < compact.SlotCounts[work.Night])
            starts[activity] = minutes / compact.SlotMinutes;
    }
}
