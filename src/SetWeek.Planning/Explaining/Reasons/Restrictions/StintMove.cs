using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Moves the stint of a plan to another time or to other people, with the consequences only. The people's shifts are extended to
/// cover it, and so is the keyholder's shift with opening and closing. A clean-down that is no longer needed is removed. The
/// result has to be checked.
/// </summary>
internal sealed class StintMove(ExplanationSubject subject)
{
    private readonly Problem problem = subject.Problem;
    private readonly ShiftExtension shiftExtension = new(subject.Problem);

    public Schedule To(int night, int from, IReadOnlyList<Assignment> people)
    {
        var moved = subject.Work with { Night = night, From = from, To = from + subject.Minutes, Assignments = people };
        ScheduledWork[] works = [.. subject.OtherWork.Where(other => !IsObsoleteCleanDown(other, moved)), moved];
        var shifts = subject.Schedule.Shifts.ToList();
        foreach (var assignment in people) ExtendShift(shifts, works, assignment.Person, night, moved.Span);
        var keyholders = subject.Schedule.Keyholders.ToArray();
        if (problem.Rules.KeyholderPresent)
        {
            ExtendKeyholderShift(shifts, works, moved);
            ScheduledShift[] all = [.. shifts.Where(shift => shift.Night == night)];
            if (FirstKeyholder(all) is { } first) keyholders[night] = first;
        }
        return subject.Schedule with { Shifts = shifts, Work = works, Keyholders = keyholders };
    }

    /// <summary>
    /// A schedule with only one person's work and shifts, and the stint added to them; for rules on working time.
    /// </summary>
    public Schedule PersonSchedule(int person, int night, int from)
    {
        var moved = subject.Work with
        {
            Night = night, From = from, To = from + subject.Minutes, Assignments = [new Assignment(person, 0)],
        };
        ScheduledWork[] works =
            [.. subject.OtherWork.Where(other => other.Assignments.Any(assignment => assignment.Person == person)), moved];
        var shifts = subject.Schedule.Shifts.Where(shift => shift.Person == person).ToList();
        ExtendShift(shifts, works, person, night, moved.Span);
        return subject.Schedule with { Shifts = shifts, Work = works };
    }

    private bool IsObsoleteCleanDown(ScheduledWork cleanDown, ScheduledWork moved) =>
        cleanDown.IsCleanDown && cleanDown.Zone == moved.Zone && cleanDown.Night != moved.Night
        && cleanDown.Night == subject.Work.Night
        && problem.Facts?.BegunCleanDowns.Contains(cleanDown) != true
        && !subject.OtherWork.Any(other => other.Stint is { } stint && other.Night == cleanDown.Night
            && other.Zone == cleanDown.Zone && !problem.Stints[stint].Task.IsLastTask);

    private void ExtendShift(List<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works, int person, int night, Span span)
    {
        var index = shifts.FindIndex(shift => shift.Person == person && shift.Night == night);
        ScheduledWork[] ownWork = [.. works.Where(work => work.Assignments.Any(assignment => assignment.Person == person))];
        var covering = shiftExtension.Cover(index < 0 ? null : shifts[index], person, night, span, ownWork);
        if (index < 0) shifts.Add(covering);
        else shifts[index] = covering;
    }

    /// <summary>
    /// Extends the keyholder's shift over all shifts, opening and closing. A night without shifts takes a keyholder of the
    /// stint.
    /// </summary>
    private void ExtendKeyholderShift(List<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works, ScheduledWork moved)
    {
        var night = moved.Night;
        var holder = subject.Schedule.Keyholders[night]
            ?? moved.Assignments.Where(assignment => problem.Crew[assignment.Person].Keyholder)
                .Select(assignment => (int?)assignment.Person).FirstOrDefault();
        if (holder is not { } keyholder) return;
        var nightShifts = shifts.Where(shift => shift.Night == night).ToArray();
        var own = nightShifts.FirstOrDefault(shift => shift.Person == keyholder);
        var opens = Math.Min(nightShifts.Min(shift => shift.From), moved.From - (problem.Rules.OpeningMinutes ?? 0));
        var closes = Math.Max(nightShifts.Max(shift => shift.To), moved.To + (problem.Rules.ClosingMinutes ?? 0));
        if (own is not null && own.From <= opens && own.To >= closes) return;
        var ownWork = works.Where(work => work.Assignments.Any(assignment => assignment.Person == keyholder)).ToArray();
        // Covering the first and the last minute extends the shift and still allows a break between them.
        foreach (var minute in (Span[])[new(opens, opens + 1), new(closes - 1, closes)])
            ExtendShift(minute);

        void ExtendShift(Span span)
        {
            var index = shifts.FindIndex(shift => shift.Person == keyholder && shift.Night == night);
            if (index < 0) shifts.Add(shiftExtension.Cover(null, keyholder, night, span, ownWork));
            else shifts[index] = shiftExtension.Cover(shifts[index], keyholder, night, span, ownWork);
        }
    }

    private int? FirstKeyholder(ScheduledShift[] shifts) => shifts
        .Where(own => problem.Crew[own.Person].Keyholder && shifts.All(other => own.Span.Contains(other.Span)))
        .OrderBy(own => own.Person).Select(own => (int?)own.Person).FirstOrDefault();
}
