using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Turns a complete partial schedule into a schedule: it adds breaks and keyholders.</summary>
internal static class ScheduleCompletion
{
    public static Schedule Of(CompactProblem compact, PartialSchedule schedule)
    {
        var shifts = new List<ScheduledShift>();
        for (var night = 0; night < compact.Nights; night++)
            for (var person = 0; person < compact.People; person++)
                if (schedule.ShiftFrom[person * compact.Nights + night] >= 0)
                    shifts.Add(ShiftOf(compact, schedule, person, night));
        var work = new List<ScheduledWork>();
        for (var index = 0; index < compact.Activities.Length; index++)
            if (schedule.Night[index] >= 0) work.Add(WorkOf(compact, schedule, compact.Activities[index]));
        var keyholders = Enumerable.Range(0, compact.Nights).Select(night => Keyholder(compact, schedule, shifts, night));
        return new Schedule { Shifts = shifts, Work = work, Keyholders = [.. keyholders] };
    }

    /// <summary>The person's shift in a night, with its break. There must be one.</summary>
    public static ScheduledShift ShiftOf(CompactProblem compact, PartialSchedule schedule, int person, int night)
    {
        var at = person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        var (begins, ends) = (compact.MinuteAt(night, from), compact.MinuteAt(night, to));
        var state = compact.BegunShifts.State(at);
        if (state == ShiftState.Ended) return compact.BegunShifts.ShiftOf(at);
        if (state == ShiftState.UnderWay)
        {
            var begun = compact.BegunShifts.ShiftOf(at);
            begins = begun.From;
            if (compact.BegunShifts.BreakBegun(at)) return new ScheduledShift(person, night, begins, ends, begun.Break);
        }
        if (ends - begins <= compact.Problem.Crew[person].BreakAfter)
            return new ScheduledShift(person, night, begins, ends, null);
        Span<ulong> busy = stackalloc ulong[compact.WordsPerNight];
        schedule.BusyRow(person, night).CopyTo(busy);
        var length = compact.FeasibleShifts.BreakSlots[person];
        var start = ShortestShift.BreakStart(busy, from, to, compact.FeasibleShifts.MaxSlotsWithoutBreak[person], length,
            PreferredBreakStart(compact, person, night, from, to, length));
        Span? rest = start < 0 ? null : new Span(compact.MinuteAt(night, start), compact.MinuteAt(night, start + length));
        return new ScheduledShift(person, night, begins, ends, rest);
    }

    /// <summary>Slot of the published break, otherwise the middle of the shift.</summary>
    private static int PreferredBreakStart(CompactProblem compact, int person, int night, int from, int to, int length)
    {
        var published = compact.Problem.Facts?.Published.Shifts.FirstOrDefault(shift =>
            shift.Person == person && shift.Night == night)?.Break;
        return published is { } rest ? Math.Max(0, compact.SlotAtOrBefore(night, rest.From)) : (from + to - length) / 2;
    }

    private static ScheduledWork WorkOf(CompactProblem compact, PartialSchedule schedule, CompactActivity activity)
    {
        var index = activity.Index;
        if (activity.HasBegun)
        {
            var facts = compact.Problem.Facts!;
            return activity.CleanDownNight < 0 ? facts.BegunWork[index]!
                : facts.BegunCleanDowns.First(work => work.Zone == activity.Zone && work.Night == activity.CleanDownNight);
        }
        var mode = activity.Modes[schedule.Mode[index]];
        int? stint = activity.CleanDownNight < 0 ? index : null;
        var assignments = schedule.PeopleOf(index).ToArray()
            .Select((person, requirement) => new Assignment(person, mode.Requirements[requirement].Skill));
        return new ScheduledWork(schedule.Night[index], stint, mode.ModeIndex, activity.Zone,
            schedule.StartMinute[index], schedule.EndMinute[index], [.. assignments]);
    }

    /// <summary>The first keyholder in crew order whose shift spans all others.</summary>
    private static int? Keyholder(CompactProblem compact, PartialSchedule schedule, List<ScheduledShift> shifts, int night)
    {
        if (!compact.KeyholderPresent) return null;
        if (compact.Opens[night] + compact.SlotCounts[night] * compact.SlotMinutes <= compact.Now)
            return schedule.Keyholder[night] < 0 ? null : schedule.Keyholder[night];
        var inNight = shifts.Where(shift => shift.Night == night).ToList();
        return inNight.Where(shift => compact.Problem.Crew[shift.Person].Keyholder
            && inNight.All(other => shift.Span.Contains(other.Span)))
            .Select(shift => (int?)shift.Person).Min();
    }
}
