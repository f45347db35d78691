using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// The plan with the stint at another time or with other people, and only what follows from that: their shifts cover it, so
/// does the keyholder's with what opening and closing take, and a clean-down that nobody's work asks for any more goes.
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

    /// <summary>One person's week were they on it, and nobody else's: what the rules of people's time are asked of.</summary>
    public Schedule PersonSchedule(int person, int night, int from)
    {
        var moved = subject.Work with { Night = night, From = from, To = from + subject.Minutes, Assignments = [new Assignment(person, 0)] };
        ScheduledWork[] works = [.. subject.OtherWork.Where(other => other.Assignments.Any(assignment => assignment.Person == person)), moved];
        var shifts = subject.Schedule.Shifts.Where(shift => shift.Person == person).ToList();
        ExtendShift(shifts, works, person, night, moved.Span);
        return subject.Schedule with { Shifts = shifts, Work = works };
    }

    private bool IsObsoleteCleanDown(ScheduledWork cleanDown, ScheduledWork moved) =>
        cleanDown.IsCleanDown && cleanDown.Zone == moved.Zone && cleanDown.Night != moved.Night && cleanDown.Night == subject.Work.Night
        && problem.Facts?.BegunCleanDowns.Contains(cleanDown) != true
        && !subject.OtherWork.Any(other => other.Stint is { } stint && other.Night == cleanDown.Night && other.Zone == cleanDown.Zone
            && !problem.Stints[stint].Task.IsLastTask);

    private void ExtendShift(List<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works, int person, int night, Span span)
    {
        var at = shifts.FindIndex(shift => shift.Person == person && shift.Night == night);
        ScheduledWork[] theirs = [.. works.Where(work => work.Assignments.Any(assignment => assignment.Person == person))];
        var covering = shiftExtension.Cover(at < 0 ? null : shifts[at], person, night, span, theirs);
        if (at < 0) shifts.Add(covering);
        else shifts[at] = covering;
    }

    /// <summary>In a night without anybody so far, whoever is on it and holds a key.</summary>
    private void ExtendKeyholderShift(List<ScheduledShift> shifts, IReadOnlyList<ScheduledWork> works, ScheduledWork moved)
    {
        var night = moved.Night;
        var holder = subject.Schedule.Keyholders[night]
            ?? moved.Assignments.Where(assignment => problem.Crew[assignment.Person].Keyholder).Select(assignment => (int?)assignment.Person).FirstOrDefault();
        if (holder is not { } keyholder) return;
        var there = shifts.Where(shift => shift.Night == night).ToArray();
        var own = there.FirstOrDefault(shift => shift.Person == keyholder);
        var opens = Math.Min(there.Min(shift => shift.From), moved.From - (problem.Rules.OpeningMinutes ?? 0));
        var closes = Math.Max(there.Max(shift => shift.To), moved.To + (problem.Rules.ClosingMinutes ?? 0));
        if (own is not null && own.From <= opens && own.To >= closes) return;
        var free = works.Where(work => work.Assignments.Any(assignment => assignment.Person == keyholder)).ToArray();
        // The stretches by themselves, so that a break within the shift is no matter.
        foreach (var end in (Span[])[new(opens, opens + 1), new(closes - 1, closes)])
            if (shifts.FindIndex(shift => shift.Person == keyholder && shift.Night == night) is var at)
            {
                if (at < 0) shifts.Add(shiftExtension.Cover(null, keyholder, night, end, free));
                else shifts[at] = shiftExtension.Cover(shifts[at], keyholder, night, end, free);
            }
    }

    private int? FirstKeyholder(ScheduledShift[] shifts) => shifts
        .Where(own => problem.Crew[own.Person].Keyholder && shifts.All(other => own.Span.Contains(other.Span)))
        .OrderBy(own => own.Person).Select(own => (int?)own.Person).FirstOrDefault();
}
