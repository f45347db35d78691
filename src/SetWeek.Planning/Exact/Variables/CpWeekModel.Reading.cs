using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    private readonly HashSet<int> hinted = [];

    /// <summary>Reads a solution as a schedule.</summary>
    /// <param name="value">Gives the value of an expression in the solution.</param>
    public Schedule Read(Func<LinearExpr, long> value)
    {
        bool Holds(ILiteral literal) => FixedValueOf(literal) ?? value(literal.AsExpr()) == 1;
        var work = new List<ScheduledWork>();
        foreach (var activity in Activities)
        {
            if (activity.Begun) work.Add(activity.FixedWork!);
            else if (Holds(activity.Present)) work.Add(WorkOf(activity, Holds, value));
        }
        var shifts = new List<ScheduledShift>();
        foreach (var shift in AllShifts)
        {
            if (shift.FixedShift is { } fixedShift) shifts.Add(fixedShift);
            else if (Holds(shift.Present))
            {
                var breakFrom = Holds(shift.HasBreak) ? value(shift.BreakFrom) : -1;
                var from = shift.Begun?.From ?? MinuteOf(value(shift.From));
                shifts.Add(new ScheduledShift(shift.Person, shift.Night, from, MinuteOf(value(shift.To)),
                    breakFrom < 0 ? null : new Span(MinuteOf(breakFrom), MinuteOf(breakFrom + shift.BreakLength))));
            }
        }
        int?[] keyholders = [.. Problem.Nights.Select(night => KeyholderOf(night, shifts))];
        return new Schedule { Work = work, Shifts = shifts, Keyholders = keyholders };
    }

    private ScheduledWork WorkOf(CpActivity activity, Func<ILiteral, bool> holds, Func<LinearExpr, long> value)
    {
        var mode = Array.FindIndex(activity.InMode, literal => holds(literal));
        var people = Problem.Crew.Where(person => holds(activity.HasPerson[person.Index]))
            .Select(person => person.Index).ToArray();
        // With the same people as in the base plan, each keeps their skill.
        if (activity.FixedWork is { } fixedWork
            && fixedWork.Assignments.Select(assignment => assignment.Person).ToHashSet().SetEquals(people)) return fixedWork;
        var start = MinuteOf(value(activity.Start));
        var night = Array.FindIndex(activity.InNight, literal => holds(literal));
        return new ScheduledWork(night, activity.Stint?.Index, mode, activity.Zone, start, start + MinuteOf(activity.Sizes[mode]),
            HallConditionsOf(activity.Modes[mode]).AssignmentsOf(people));
    }

    /// <summary>
    /// The first keyholder in crew order whose shift spans all the others. If there is none, the first whose shift does so from
    /// now on.
    /// </summary>
    private int? KeyholderOf(NightWindow night, List<ScheduledShift> allShifts)
    {
        if (night.Closes <= Now) return Problem.Facts!.Published.Keyholders[night.Index];
        if (!Problem.Rules.KeyholderPresent) return null;
        var shifts = allShifts.Where(shift => shift.Night == night.Index).ToArray();
        var remaining = shifts
            .Where(shift => shift.From >= Now || Problem.Facts!.EarliestEnds.ContainsKey((shift.Person, shift.Night)))
            .Select(shift => shift with { From = Math.Max(shift.From, Now) }).ToArray();
        return FirstSpanning(shifts) ?? FirstSpanning(remaining);
    }

    private int? FirstSpanning(ScheduledShift[] shifts) => shifts
        .Where(shift => Problem.Crew[shift.Person].Keyholder && shifts.All(other => shift.Span.Contains(other.Span)))
        .OrderBy(shift => shift.Person).Select(shift => (int?)shift.Person).FirstOrDefault();

    /// <summary>
    /// Hints a plan to the solver as its first solution. A value gives no hint where the model has fixed its variable.
    /// </summary>
    public void Hint(Schedule schedule)
    {
        var (stints, shifts) = (schedule.WorkByStint(Problem), schedule.Shifts.ToLookup(shift => (shift.Person, shift.Night)));
        var placed = schedule.PlacedDisplays(Problem);
        for (var display = 0; display < placed.Length; display++) Hint(Placed[display], placed[display]);
        foreach (var activity in Activities)
            HintActivity(activity, activity.Stint is { } stint ? stints[stint.Index]
                : schedule.Work.FirstOrDefault(work =>
                    work.IsCleanDown && work.Zone == activity.Zone && !IsFixedFalse(activity.InNight[work.Night])));
        foreach (var shift in AllShifts)
            if (!shift.IsFixed) HintShift(shift, shifts[(shift.Person, shift.Night)].FirstOrDefault());
    }

    private void HintActivity(CpActivity activity, ScheduledWork? work)
    {
        foreach (var person in Problem.Crew)
        {
            var assigned = work?.Assignments.Any(assignment => assignment.Person == person.Index) == true;
            Hint(activity.HasPerson[person.Index], assigned);
        }
        if (activity.FixedWork is not null) return;
        Hint(activity.Present, work is not null);
        for (var mode = 0; mode < activity.Modes.Count; mode++)
        {
            Hint(activity.InMode[mode], work?.Mode == mode);
            for (var night = 0; night < Problem.Nights.Count; night++)
                Hint(activity.InModeAndNight[mode, night], work is not null && work.Mode == mode && work.Night == night);
        }
        for (var night = 0; night < Problem.Nights.Count; night++) Hint(activity.InNight[night], work?.Night == night);
        if (work is null) return;
        Hint(activity.Start, FloorUnit(work.From));
        if (activity.End is IntVar end) Hint(end, CeilingUnit(work.To));
        if (activity.Size is IntVar size) Hint(size, CeilingUnit(work.Span.Minutes));
    }

    private void HintShift(CpShift shift, ScheduledShift? planned)
    {
        Hint(shift.Present, planned is not null);
        Hint(shift.HasBreak, planned?.Break is not null);
        var opens = Opens(shift.Night);
        if (shift.Begun is null) Hint(shift.FromStep, planned is null ? 0 : (CeilingUnit(planned.From) - opens) / ShiftStep);
        Hint(shift.ToStep, planned is null ? 0 : (CeilingUnit(planned.To) - opens) / ShiftStep);
        if (shift.LengthStep is { } length) Hint(length, planned is null ? 0 : CeilingUnit(planned.Span.Minutes) / ShiftStep);
        if (planned?.Break is { } plannedBreak) Hint(shift.BreakStep, (CeilingUnit(plannedBreak.From) - opens) / GridStep);
    }

    /// <summary>Hints a literal once: the solver rejects a second hint for the same variable.</summary>
    private void Hint(ILiteral literal, bool value)
    {
        var index = literal.GetIndex();
        if (FixedValueOf(literal) is null && hinted.Add(index >= 0 ? index : -index - 1)) Cp.AddHint(literal, value);
    }

    private void Hint(IntVar variable, long value)
    {
        var domain = variable.Proto.Domain;
        if (domain[0] != domain[^1] && hinted.Add(variable.GetIndex())) Cp.AddHint(variable, value);
    }

    private int MinuteOf(long units) => (int)(units * Unit);
}
