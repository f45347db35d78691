using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The roster of the night master: who is on in which night, for how long, and how long at work. In minutes.
/// Rows, and why every valid plan keeps them:
/// shift-length, break: a shift's length is one that some room of the person-night holds; only one longer than breakAfter is
/// paid a break less; nobody works longer than they are paid, or than the night's work lasts (MostWork).
/// keyholder: one who is on leads, no shift is longer than the lead's. open-close: work lies inside the lead's shift less
/// opening and closing, so the night's work lasts that much less than the lead's shift (Span), and nobody works longer.
/// two-person: minPeople are on for the whole of the lead's shift, so lengths sum to at least minPeople x Span; while opening
/// and closing nobody works, so work sums to at most the lengths less minPeople x (opening + closing).
/// rest: two nights that no two shifts can rest between are not both worked. maxNights.
/// Nights that have begun (re-plan) have no rows: nothing about them is claimed.
/// </summary>
internal sealed class RosterColumns
{
    private readonly Problem problem;
    private readonly CrewShiftWindows shiftWindows;
    private readonly LinearModel model;
    private readonly LinearExpression?[][] hasShift, shiftMinutes, hasBreak, workMinutes;

    public RosterColumns(Problem problem, CrewShiftWindows shiftWindows, LinearModel model)
    {
        (this.problem, this.shiftWindows, this.model) = (problem, shiftWindows, model);
        (hasShift, shiftMinutes, hasBreak, workMinutes) = (ByPersonAndNight(), ByPersonAndNight(), ByPersonAndNight(), ByPersonAndNight());
        Attended = new LinearExpression?[problem.Nights.Count];
        AttendedMinutes = new LinearExpression?[problem.Nights.Count];
        foreach (var night in problem.Nights.Where(night => !shiftWindows.HasBegun(night.Index)))
        {
            foreach (var person in problem.Crew) AddShift(person, night.Index);
            AddAttendanceRows(night);
        }
        foreach (var person in problem.Crew) AddWeekRows(person);
    }

    /// <summary>By night: somebody is on. Null for nights that have begun and those that nobody can work.</summary>
    public LinearExpression?[] Attended { get; }

    /// <summary>
    /// By night: minutes from the first shift's start to the last one's end (at least as long as the longest shift).
    /// </summary>
    public LinearExpression?[] AttendedMinutes { get; }

    /// <summary>Minutes of opening and closing, in which nobody works.</summary>
    public int OpeningAndClosingMinutes => problem.Rules.KeyholderPresent
        ? (problem.Rules.OpeningMinutes ?? 0) + (problem.Rules.ClosingMinutes ?? 0) : 0;

    /// <summary>Null: the person cannot be on that night, or the night has begun.</summary>
    public LinearExpression? HasShift(int person, int night) => hasShift[person][night];

    public LinearExpression? ShiftMinutes(int person, int night) => shiftMinutes[person][night];

    public LinearExpression? WorkMinutes(int person, int night) => workMinutes[person][night];

    /// <summary>A break is taken; null where no shift is long enough for one.</summary>
    public LinearExpression? HasBreak(int person, int night) => hasBreak[person][night];

    public LinearExpression? PaidMinutes(int person, int night) => shiftMinutes[person][night] is not { } minutes ? null
        : hasBreak[person][night] is { } rest ? new LinearExpression().Add(minutes).Add(rest, -problem.Crew[person].BreakMinutes) : minutes;

    private LinearExpression?[][] ByPersonAndNight() => [.. problem.Crew.Select(_ => new LinearExpression?[problem.Nights.Count])];

    private void AddShift(Person person, int night)
    {
        var longest = shiftWindows.WindowsOf(person.Index, night).Select(room => room.Longest).DefaultIfEmpty(0).Max();
        if (longest <= 0) return;
        var (step, p) = (problem.ShiftGridMinutes, person.Index);
        var least = Math.Max(1, (person.MinShift + step - 1) / step);
        var here = hasShift[p][night] = model.NewBinary(night);
        var units = model.NewColumn(0, longest / step, night);
        shiftMinutes[p][night] = new LinearExpression().Add(units, step);
        model.AddAtMostZero(new LinearExpression().Add(units).Add(here, -(longest / step)));
        model.AddAtMostZero(new LinearExpression().Add(here, least).Add(units, -1));
        if (longest > person.BreakAfter)
        {
            var rest = hasBreak[p][night] = model.NewBinary(night);
            model.AddAtMostZero(new LinearExpression().Add(rest, (person.BreakAfter / step) + 1).Add(units, -1));
            model.AddAtMostZero(new LinearExpression().Add(units).Add(here, -(person.BreakAfter / step))
                .Add(rest, -(longest / step - person.BreakAfter / step)));
        }
        var most = shiftWindows.MaxWorkMinutes(p, night) / problem.Grid.SlotMinutes;
        var slots = workMinutes[p][night] = new LinearExpression().Add(model.NewColumn(0, most, night), problem.Grid.SlotMinutes);
        model.AddAtMostZero(new LinearExpression().Add(slots).Add(here, -most * problem.Grid.SlotMinutes));
        model.AddAtMostZero(new LinearExpression().Add(slots).Add(PaidMinutes(p, night)!, -1));
    }

    private void AddAttendanceRows(NightWindow night)
    {
        var here = problem.Crew.Where(person => hasShift[person.Index][night.Index] is not null).Select(person => person.Index)
            .ToArray();
        if (here.Length == 0) return;
        var open = Attended[night.Index] = model.NewBinary(night.Index);
        var span = AttendedMinutes[night.Index] = model.NewColumn(0, night.Span.Minutes, night.Index);
        model.AddAtMostZero(new LinearExpression().Add(span).Add(open, -night.Span.Minutes));
        foreach (var person in here)
        {
            model.AddAtMostZero(new LinearExpression().Add(hasShift[person][night.Index]!).Add(open, -1));
            model.AddAtMostZero(new LinearExpression().Add(shiftMinutes[person][night.Index]!).Add(span, -1));
            model.AddAtMostZero(new LinearExpression().Add(workMinutes[person][night.Index]!).Add(span, -1).Add(open, OpeningAndClosingMinutes));
        }
        var lengths = LinearExpression.SumOf(here.Select(person => shiftMinutes[person][night.Index]!));
        var least = problem.Rules.MinPeople ?? 1;
        model.AddAtMostZero(new LinearExpression().Add(span, least).Add(lengths, -1));
        model.AddAtMostZero(new LinearExpression().Add(open, least).Add(LinearExpression.SumOf(here.Select(person => hasShift[person][night.Index]!)), -1));
        model.AddAtMostZero(LinearExpression.SumOf(here.Select(person => workMinutes[person][night.Index]!)).Add(lengths, -1).Add(open, least * OpeningAndClosingMinutes));
        if (problem.Rules.KeyholderPresent) AddKeyholderRows(night, [.. here.Where(person => problem.Crew[person].Keyholder)], open, span);
    }

    private void AddKeyholderRows(NightWindow night, int[] keyholders, LinearExpression attended, LinearExpression attendedMinutes)
    {
        var leads = new LinearExpression();
        foreach (var person in keyholders)
        {
            var leading = model.NewBinary(night.Index);
            leads.Add(leading);
            model.AddAtMostZero(new LinearExpression().Add(leading).Add(hasShift[person][night.Index]!, -1));
            model.AddAtMostZero(new LinearExpression().Add(attendedMinutes).Add(shiftMinutes[person][night.Index]!, -1).Add(-night.Span.Minutes)
                .Add(leading, night.Span.Minutes));
            model.AddAtMostZero(new LinearExpression().Add(workMinutes[person][night.Index]!).Add(shiftMinutes[person][night.Index]!, -1)
                .Add(leading, OpeningAndClosingMinutes));
        }
        model.AddEqualsZero(new LinearExpression().Add(attended).Add(leads, -1));
    }

    private void AddWeekRows(Person person)
    {
        var begun = problem.Facts?.Published.Shifts.Count(shift =>
            shift.Person == person.Index && shift.From < problem.Facts.Now) ?? 0;
        var nights = hasShift[person.Index].OfType<LinearExpression>().ToArray();
        if (person.MaxNights - begun < nights.Length && begun < person.MaxNights)
            model.AddAtMostZero(LinearExpression.SumOf(nights).Add(-(person.MaxNights - begun)));
        for (var night = 0; night + 1 < problem.Nights.Count; night++)
            if (hasShift[person.Index][night] is { } one && hasShift[person.Index][night + 1] is { } next && !CanRest(person, night))
                model.AddAtMostZero(new LinearExpression().Add(one).Add(next).Add(-1));
    }

    /// <summary>Some shift of the one night and some of the next have the rest between them.</summary>
    private bool CanRest(Person person, int night)
    {
        var least = Math.Max(person.MinShift, problem.ShiftGridMinutes);
        return shiftWindows.WindowsOf(person.Index, night).Min(room => room.EarliestStart) + least + person.MinRest
            <= shiftWindows.WindowsOf(person.Index, night + 1).Max(room => Math.Min(room.LatestStart, room.LatestEnd - least));
    }
}
