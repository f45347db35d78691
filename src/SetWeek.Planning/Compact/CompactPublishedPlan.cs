using SetWeek.Model.Goals;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>The published plan in compact form, for comparison in a re-plan. Empty for a week without one.</summary>
internal sealed class CompactPublishedPlan
{
    private readonly CompactProblem compact;
    private readonly int[] nights, starts, startMinutes;
    private readonly ulong[] people;
    private readonly ScheduledShift?[] shifts;
    private readonly (int From, int To)[] shiftsToKeep;
    private readonly int noticeEnds;
    private readonly double changePrice;

    public CompactPublishedPlan(CompactProblem compact)
    {
        this.compact = compact;
        (nights, starts) = (new int[compact.Activities.Length], new int[compact.Activities.Length]);
        startMinutes = new int[compact.Stints];
        people = new ulong[compact.Activities.Length];
        shifts = new ScheduledShift?[compact.People * compact.Nights];
        shiftsToKeep = new (int, int)[shifts.Length];
        ReleasedShifts = new bool[shifts.Length];
        Array.Fill(nights, -1);
        Array.Fill(starts, -1);
        Array.Fill(shiftsToKeep, (-1, -1));
        if (compact.Problem.Facts is not { } facts) return;
        noticeEnds = ChangesGoal.NoticeEnd(compact.Problem, facts);
        changePrice = InsertionPrices.For(compact.Problem).Change;
        foreach (var work in facts.Published.Work) AddWork(work);
        foreach (var shift in facts.Published.Shifts)
        {
            var at = shift.Person * compact.Nights + shift.Night;
            var opens = compact.Opens[shift.Night];
            shifts[at] = shift;
            if (changePrice <= 0 || (shift.To - opens) % compact.SlotMinutes != 0) continue;
            if (compact.BegunShifts.State(at) == ShiftState.UnderWay)
                shiftsToKeep[at] = (compact.BegunShifts.StartSlot(at), (shift.To - opens) / compact.SlotMinutes);
            else if (shift.From >= compact.Now && (shift.From - opens) % compact.SlotMinutes == 0)
                shiftsToKeep[at] = ((shift.From - opens) / compact.SlotMinutes, (shift.To - opens) / compact.SlotMinutes);
        }
    }

    /// <summary>Price of a change, by which rosters are compared; 0 if the goal changes does not come before cost.</summary>
    public double ChangePrice => AllShiftsReleased ? 0 : changePrice;

    /// <summary>Published night of a stint; -1: none.</summary>
    public int NightOf(int activity) => nights[activity];

    /// <summary>
    /// Published start slot of an activity in its published night, for a clean-down in its own night; -1: none, or it lies before
    /// now or off the grid.
    /// </summary>
    public int StartSlotOf(int activity) => starts[activity];

    /// <summary>Was the person published for the activity?</summary>
    public bool HasPerson(int activity, int person) => (people[activity] & 1UL << person) != 0;

    /// <summary>Value of the goal shuffled.</summary>
    public int ShuffledStints(PartialSchedule schedule)
    {
        if (compact.Problem.Facts is null) return 0;
        var count = 0;
        for (var stint = 0; stint < compact.Stints; stint++)
            if (IsShuffled(schedule, stint)) count++;
        return count;
    }

    /// <summary>True if a placed stint would be shuffled with a set of people.</summary>
    public bool IsShuffled(PartialSchedule schedule, int stint, ulong assigned) =>
        IsShuffled(stint, schedule.Night[stint], schedule.StartMinute[stint])
        || Counts(stint, schedule.Night[stint]) && assigned != people[stint];

    /// <summary>True if an activity is a stint that a start would shuffle, whoever does it.</summary>
    public bool IsShuffled(int activity, int night, int startMinute) => activity < compact.Stints && Counts(activity, night)
        && Math.Abs(startMinute - startMinutes[activity]) > ShuffledGoal.StartToleranceMinutes;

    private bool Counts(int stint, int night) =>
        nights[stint] >= 0 && night == nights[stint] && !compact.Problem.Facts!.HasBegun[stint];

    /// <summary>True if a stint is shuffled.</summary>
    public bool IsShuffled(PartialSchedule schedule, int stint) =>
        schedule.Night[stint] >= 0 && IsShuffled(schedule, stint, PeopleOf(schedule, stint));

    /// <summary>
    /// Number of activities at another time than published, plus those with other people. It guides a repair: work that lies
    /// exactly where it was published leaves room for the rest of the published plan.
    /// </summary>
    public int DisplacedWork(PartialSchedule schedule)
    {
        var count = 0;
        for (var activity = 0; activity < starts.Length; activity++)
        {
            if (starts[activity] < 0 || schedule.Night[activity] < 0) continue;
            if (schedule.StartSlot[activity] != starts[activity]
                || activity < compact.Stints && schedule.Night[activity] != nights[activity])
                count++;
            if ((PeopleOf(schedule, activity) & ~people[activity]) != 0) count++;
        }
        return count;
    }

    private static ulong PeopleOf(PartialSchedule schedule, int activity)
    {
        var set = 0UL;
        foreach (var person in schedule.PeopleOf(activity)) set |= 1UL << person;
        return set;
    }

    /// <summary>The published shift of a person and night, in slots, if it should stay; otherwise (-1, -1).</summary>
    public (int From, int To) ShiftToKeep(int personNight) =>
        AllShiftsReleased || ReleasedShifts[personNight] ? (-1, -1) : shiftsToKeep[personNight];

    /// <summary>By person and night: the published shift need not stay at present. The search sets and clears it.</summary>
    public bool[] ReleasedShifts { get; }

    /// <summary>True during a reconstruction: no published shift need stay.</summary>
    public bool AllShiftsReleased { get; set; }

    /// <summary>Value that the shift of a person and night adds to the goal changes.</summary>
    public int ShiftChanges(PartialSchedule schedule, int personNight)
    {
        var (published, from) = (shifts[personNight], schedule.ShiftFrom[personNight]);
        if (published is null && from < 0) return 0;
        var (night, state) = (personNight % compact.Nights, compact.BegunShifts.State(personNight));
        var begins = from < 0 ? Problem.Never
            : state == ShiftState.NotBegun ? compact.MinuteAt(night, from) : compact.BegunShifts.ShiftOf(personNight).From;
        var change = ChangesGoal.PresenceWeight;
        if (published is not null && from >= 0)
        {
            var ends = state == ShiftState.Ended ? published.To : compact.MinuteAt(night, schedule.ShiftTo[personNight]);
            change = begins == published.From && ends == published.To ? 0 : ChangesGoal.MoveWeight;
        }
        return change * ChangesGoal.FactorAt(Math.Min(begins, published?.From ?? Problem.Never), noticeEnds);
    }

    private void AddWork(ScheduledWork work)
    {
        var activity = work.Stint
            ?? (compact.Problem.Zones[work.Zone].CleanDown is null ? -1 : compact.CleanDownIndex(work.Zone, work.Night));
        if (activity < 0) return;
        if (work.Stint is not null) (nights[activity], startMinutes[activity]) = (work.Night, work.From);
        foreach (var assignment in work.Assignments) people[activity] |= 1UL << assignment.Person;
        var minutes = work.From - compact.Opens[work.Night];
        if (work.From >= compact.Now && minutes % compact.SlotMinutes == 0
            && minutes / compact.SlotMinutes < compact.SlotCounts[work.Night])
            starts[activity] = minutes / compact.SlotMinutes;
    }
}
