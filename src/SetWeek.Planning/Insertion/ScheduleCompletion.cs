using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Turns a complete partial schedule into a schedule: it adds breaks and keyholders.</summary>
internal static class ScheduleCompletion
{
    public static Schedule Of(CompactProblem compact, PartialSchedule schedule)
    {
        var (shifts, shortestShift) = (new List<ScheduledShift>(), new ShortestShift(compact));
        var keyholders = new int?[compact.Nights];
        for (var night = 0; night < compact.Nights; night++)
        {
            ScheduledShift[] withoutBreaks = [.. Enumerable.Range(0, compact.People)
                .Where(person => schedule.ShiftFrom[person * compact.Nights + night] >= 0)
                .Select(person => WithoutBreak(compact, schedule, person, night))];
            keyholders[night] = Keyholder(compact, schedule, withoutBreaks, night);
            foreach (var shift in withoutBreaks)
                shifts.Add(WithBreak(compact, schedule, shortestShift, shift, keyholders[night] == shift.Person));
        }
        var work = new List<ScheduledWork>();
        for (var index = 0; index < compact.Activities.Length; index++)
            if (schedule.Night[index] >= 0) work.Add(WorkOf(compact, schedule, compact.Activities[index]));
        return new Schedule { Shifts = shifts, Work = work, Keyholders = keyholders };
    }

    /// <summary>The person's shift in a night, with its break. There must be one.</summary>
    public static ScheduledShift ShiftOf(CompactProblem compact, PartialSchedule schedule, int person, int night) =>
        WithBreak(compact, schedule, new ShortestShift(compact), WithoutBreak(compact, schedule, person, night),
            schedule.Keyholder[night] == person);

    private static ScheduledShift WithoutBreak(CompactProblem compact, PartialSchedule schedule, int person, int night)
    {
        var at = person * compact.Nights + night;
        var state = compact.BegunShifts.State(at);
        if (state == ShiftState.Ended) return compact.BegunShifts.ShiftOf(at);
        var begins = state == ShiftState.UnderWay
            ? compact.BegunShifts.ShiftOf(at).From : compact.MinuteAt(night, schedule.ShiftFrom[at]);
        return new ScheduledShift(person, night, begins, compact.MinuteAt(night, schedule.ShiftTo[at]), null);
    }

    private static ScheduledShift WithBreak(CompactProblem compact, PartialSchedule schedule, ShortestShift shortestShift,
        ScheduledShift shift, bool isKeyholder)
    {
        var (person, night, at) = (shift.Person, shift.Night, shift.Person * compact.Nights + shift.Night);
        var state = compact.BegunShifts.State(at);
        if (state == ShiftState.Ended) return shift;
        if (state == ShiftState.UnderWay && compact.BegunShifts.BreakBegun(at))
            return shift with { Break = compact.BegunShifts.ShiftOf(at).Break };
        if (shift.Span.Minutes <= compact.Problem.Crew[person].BreakAfter) return shift;
        var (from, to, length) = (schedule.ShiftFrom[at], schedule.ShiftTo[at], compact.FeasibleShifts.BreakSlots[person]);
        var start = shortestShift.BreakStart(schedule, person, night, from, to, 0, 0, isKeyholder,
            PreferredBreakStart(compact, person, night, from, to, length));
        return start < 0 ? shift
            : shift with { Break = new Span(compact.MinuteAt(night, start), compact.MinuteAt(night, start + length)) };
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
    private static int? Keyholder(CompactProblem compact, PartialSchedule schedule, ScheduledShift[] inNight, int night)
    {
        if (!compact.KeyholderPresent) return null;
        if (compact.Opens[night] + compact.SlotCounts[night] * compact.SlotMinutes <= compact.Now)
            return schedule.Keyholder[night] < 0 ? null : schedule.Keyholder[night];
        return inNight.Where(shift => compact.Problem.Crew[shift.Person].Keyholder
            && inNight.All(other => shift.Span.Contains(other.Span)))
            .Select(shift => (int?)shift.Person).Min();
    }
}
