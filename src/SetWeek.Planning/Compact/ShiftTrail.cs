namespace SetWeek.Planning.Compact;

/// <summary>
/// What a try changed of shifts and keyholders, to go back to before it; cheaper than keeping the whole draft for each job.
/// </summary>
internal sealed class ShiftTrail(CompactProblem compact)
{
    private readonly List<(int At, int From, int To)> shifts = [];
    private readonly List<(int Night, int Keyholder)> keyholders = [];

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

    /// <summary>What was tried stays: nothing before it is gone back to any more.</summary>
    public void Clear()
    {
        shifts.Clear();
        keyholders.Clear();
    }

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
