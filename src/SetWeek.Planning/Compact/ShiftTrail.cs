namespace SetWeek.Planning.Compact;

/// <summary>
/// Trail of the changes of shifts and keyholders during an insertion, for backtracking. It is cheaper than a copy of the schedule
/// for each activity.
/// </summary>
internal sealed class ShiftTrail(CompactProblem compact)
{
    private readonly List<(int At, int From, int To)> shifts = [];
    private readonly List<(int Night, int Keyholder)> keyholders = [];

    /// <summary>The present position, for <see cref="Backtrack"/>.</summary>
    public (int Shifts, int Keyholders) Mark => (shifts.Count, keyholders.Count);

    public void SetShift(PartialSchedule schedule, int person, int night, int from, int to)
    {
        var at = person * compact.Nights + night;
        if (schedule.ShiftFrom[at] == from && schedule.ShiftTo[at] == to) return;
        shifts.Add((at, schedule.ShiftFrom[at], schedule.ShiftTo[at]));
        compact.SetShift(schedule, person, night, from, to);
    }

    public void SetKeyholder(PartialSchedule schedule, int night, int person)
    {
        if (schedule.Keyholder[night] == person) return;
        keyholders.Add((night, schedule.Keyholder[night]));
        schedule.Keyholder[night] = person;
    }

    /// <summary>Forgets all changes; they can no longer be undone.</summary>
    public void Clear()
    {
        shifts.Clear();
        keyholders.Clear();
    }

    /// <summary>Undoes all changes since the mark.</summary>
    public void Backtrack(PartialSchedule schedule, (int Shifts, int Keyholders) mark)
    {
        while (shifts.Count > mark.Shifts)
        {
            var (at, from, to) = shifts[^1];
            shifts.RemoveAt(shifts.Count - 1);
            compact.SetShift(schedule, at / compact.Nights, at % compact.Nights, from, to);
        }
        while (keyholders.Count > mark.Keyholders)
        {
            var (night, keyholder) = keyholders[^1];
            keyholders.RemoveAt(keyholders.Count - 1);
            schedule.Keyholder[night] = keyholder;
        }
    }
}
