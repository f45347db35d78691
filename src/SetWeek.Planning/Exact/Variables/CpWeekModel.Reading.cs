using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    /// <summary>The plan that a solution stands for.</summary>
    /// <param name="value">Value of an expression of the model in the solution.</param>
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
            if (shift.FixedShift is { } known) shifts.Add(known);
            else if (Holds(shift.Present))
            {
                var rest = Holds(shift.HasBreak) ? value(shift.BreakFrom) : -1;
                var from = shift.Begun?.From ?? MinuteOf(value(shift.From));
                shifts.Add(new ScheduledShift(shift.Person, shift.Night, from, MinuteOf(value(shift.To)),
                    rest < 0 ? null : new Span(MinuteOf(rest), MinuteOf(rest + shift.BreakLength))));
            }
        }
        int?[] keyholders = [.. Problem.Nights.Select(night => KeyholderOf(night, shifts))];
        return new Schedule { Work = work, Shifts = shifts, Keyholders = keyholders };
    }

    private ScheduledWork WorkOf(CpActivity activity, Func<ILiteral, bool> holds, Func<LinearExpr, long> value)
    {
        var mode = Array.FindIndex(activity.InMode, literal => holds(literal));
        var people = Problem.Crew.Where(person => holds(activity.HasPerson[person.Index])).Select(person => person.Index).ToArray();
        // Whom the plan had there keep the skill that they were there for.
        if (activity.FixedWork is { } known && known.Assignments.Select(assignment => assignment.Person).ToHashSet().SetEquals(people)) return known;
        var start = MinuteOf(value(activity.Start));
        var night = Array.FindIndex(activity.InNight, literal => holds(literal));
        return new ScheduledWork(night, activity.Stint?.Index, mode, activity.Zone, start, start + MinuteOf(activity.Sizes[mode]),
            HallConditionsOf(activity.Modes[mode]).AssignmentsOf(people));
    }

    /// <summary>The first in crew order whose shift spans all the others; failing that, from now on.</summary>
    private int? KeyholderOf(NightWindow night, List<ScheduledShift> all)
    {
        if (night.Closes <= Now) return Problem.Facts!.Published.Keyholders[night.Index];
        if (!Problem.Rules.KeyholderPresent) return null;
        var shifts = all.Where(shift => shift.Night == night.Index).ToArray();
        var left = shifts
            .Where(shift => shift.From >= Now || Problem.Facts!.EarliestEnds.ContainsKey((shift.Person, shift.Night)))
            .Select(shift => shift with { From = Math.Max(shift.From, Now) }).ToArray();
        return FirstSpanning(shifts) ?? FirstSpanning(left);
    }

    private int? FirstSpanning(ScheduledShift[] shifts) => shifts
        .Where(own => Problem.Crew[own.Person].Keyholder && shifts.All(other => own.Span.Contains(other.Span)))
        .OrderBy(own => own.Person).Select(own => (int?)own.Person).FirstOrDefault();

    /// <summary>Tells the solver of a plan to start from; parts of it that the model has no place for are left out.</summary>
    public void Hint(Schedule schedule)
    {
        var (stints, shifts) = (schedule.WorkByStint(Problem), schedule.Shifts.ToLookup(shift => (shift.Person, shift.Night)));
        var placed = schedule.PlacedDisplays(Problem);
        for (var display = 0; display < placed.Length; display++) Hint(Placed[display], placed[display]);
        foreach (var activity in Activities)
            HintActivity(activity, activity.Stint is { } stint ? stints[stint.Index]
                : schedule.Work.FirstOrDefault(work => work.IsCleanDown && work.Zone == activity.Zone && !IsFixedFalse(activity.InNight[work.Night])));
        foreach (var duty in AllShifts)
            if (!duty.IsFixed) HintShift(duty, shifts[(duty.Person, duty.Night)].FirstOrDefault());
    }

    private void HintActivity(CpActivity activity, ScheduledWork? work)
    {
        foreach (var person in Problem.Crew)
            Hint(activity.HasPerson[person.Index], work?.Assignments.Any(assignment => assignment.Person == person.Index) == true);
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

    private void HintShift(CpShift duty, ScheduledShift? shift)
    {
        Hint(duty.Present, shift is not null);
        Hint(duty.HasBreak, shift?.Break is not null);
        var opens = Opens(duty.Night);
        if (duty.Begun is null) Hint(duty.FromStep, shift is null ? 0 : (CeilingUnit(shift.From) - opens) / ShiftStep);
        Hint(duty.ToStep, shift is null ? 0 : (CeilingUnit(shift.To) - opens) / ShiftStep);
        if (duty.LengthStep is { } length) Hint(length, shift is null ? 0 : CeilingUnit(shift.Span.Minutes) / ShiftStep);
        if (shift?.Break is { } rest) Hint(duty.BreakStep, (CeilingUnit(rest.From) - opens) / GridStep);
    }

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

    private readonly HashSet<int> hinted = [];

    private int MinuteOf(long units) => (int)(units * Unit);
}
