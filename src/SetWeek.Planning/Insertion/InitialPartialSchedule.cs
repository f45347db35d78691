using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// The partial schedule that every plan starts from. It is empty or, in a re-plan, holds the work and shifts that have begun.
/// </summary>
internal static class InitialPartialSchedule
{
    public static PartialSchedule Of(CompactProblem compact)
    {
        var schedule = new PartialSchedule(compact);
        for (var decision = 0; decision < compact.DisplayDecisions.Length; decision++)
            schedule.Choice[decision] = compact.DisplayDecisions[decision].OpenChoices[0];
        foreach (var pin in compact.Problem.Pins.Shifts) schedule.ChangedNights |= 1u << pin.Night;
        if (compact.Problem.Facts is not { } facts) return schedule;
        foreach (var work in facts.BegunWork.OfType<ScheduledWork>())
        {
            var stint = work.Stint!.Value;
            schedule.InsertBegun(stint, work, compact.Problem.Stints[stint].Task.Modes[work.Mode].Equipment);
        }
        foreach (var work in facts.BegunCleanDowns) schedule.InsertBegun(compact.CleanDownIndex(work.Zone, work.Night), work, []);
        for (var at = 0; at < compact.People * compact.Nights; at++)
        {
            if (compact.BegunShifts.State(at) == ShiftState.NotBegun) continue;
            var (person, night) = (at / compact.Nights, at % compact.Nights);
            compact.SetShift(schedule, person, night, compact.BegunShifts.StartSlot(at), compact.BegunShifts.EarliestEndSlot(at));
            if (compact.BegunShifts.State(at) == ShiftState.UnderWay)
                BlockPast(compact, schedule, person, night, compact.BegunShifts.ShiftOf(at));
        }
        for (var night = 0; night < compact.Nights; night++)
            if (compact.Opens[night] + compact.SlotCounts[night] * compact.SlotMinutes <= compact.Now)
                schedule.Keyholder[night] = facts.Published.Keyholders[night] ?? -1;
            else
                schedule.ChangedNights |= 1u << night;
        return schedule;
    }

    /// <summary>
    /// Marks the past part of a shift under way, and a break that has begun, as busy: neither work nor a break can start there.
    /// </summary>
    private static void BlockPast(CompactProblem compact, PartialSchedule schedule, int person, int night, ScheduledShift shift)
    {
        var busy = schedule.BusyRow(person, night);
        SlotSet.Add(busy, compact.BegunShifts.StartSlot(person * compact.Nights + night),
            Math.Min(compact.SlotCounts[night], compact.SlotAtOrAfter(night, compact.Now)));
        if (shift.Break is { } rest && rest.From < compact.Now)
            SlotSet.Add(busy, Math.Max(0, compact.SlotAtOrBefore(night, rest.From)),
                Math.Min(compact.SlotCounts[night], compact.SlotAtOrAfter(night, rest.To)));
    }
}
