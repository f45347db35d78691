using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The roster columns of the night master: who has a shift in which night, its length, and the minutes worked in it.
/// Why every valid plan meets the rows:
/// shift-length, break: a shift is at most as long as the longest shift window of its person-night. A shift has an unpaid break
/// if and only if it is longer than breakAfter. Nobody works longer than they are paid, or than the propagated maximum.
/// keyholder: exactly one keyholder leads each attended night, and no shift is longer than theirs.
/// open-close: work lies inside that shift less opening and closing, so nobody works longer than that.
/// two-person: minPeople are on shift for the whole of the keyholder's shift, so shift lengths sum to at least minPeople times
/// its length. Nobody works during opening and closing, so work sums to at most the lengths less minPeople times these minutes.
/// rest: no person works two consecutive nights whose shift windows leave no time for rest. shift-length: maxNights.
/// Nights that have begun (re-plan) have no columns and no rows.
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
        (hasShift, shiftMinutes) = (ByPersonAndNight(), ByPersonAndNight());
        (hasBreak, workMinutes) = (ByPersonAndNight(), ByPersonAndNight());
        Attended = new LinearExpression?[problem.Nights.Count];
        AttendedMinutes = new LinearExpression?[problem.Nights.Count];
        foreach (var night in problem.Nights.Where(night => !shiftWindows.HasBegun(night.Index)))
        {
            foreach (var person in problem.Crew) AddShift(person, night.Index);
            AddAttendanceRows(night);
        }
        foreach (var person in problem.Crew) AddWeekRows(person);
    }

    /// <summary>By night: 1 where anybody has a shift. Null for begun nights and for nights that nobody can work.</summary>
    public LinearExpression?[] Attended { get; }

    /// <summary>
    /// By night: minutes in which anybody is on shift. Where a keyholder must be present, this is the length of their shift.
    /// </summary>
    public LinearExpression?[] AttendedMinutes { get; }

    /// <summary>Minutes of opening and closing, in which nobody works.</summary>
    public int OpeningAndClosingMinutes => problem.Rules.KeyholderPresent
        ? (problem.Rules.OpeningMinutes ?? 0) + (problem.Rules.ClosingMinutes ?? 0) : 0;

    /// <summary>Null: the person can have no shift in that night, or the night has begun.</summary>
    public LinearExpression? HasShift(int person, int night) => hasShift[person][night];

    public LinearExpression? ShiftMinutes(int person, int night) => shiftMinutes[person][night];

    public LinearExpression? WorkMinutes(int person, int night) => workMinutes[person][night];

    /// <summary>1 where the shift has a break; null where no shift can be long enough for one.</summary>
    public LinearExpression? HasBreak(int person, int night) => hasBreak[person][night];

    public LinearExpression? PaidMinutes(int person, int night) => shiftMinutes[person][night] is not { } minutes ? null
        : hasBreak[person][night] is not { } isBreak ? minutes
        : new LinearExpression().Add(minutes).Add(isBreak, -problem.Crew[person].BreakMinutes);

    private LinearExpression?[][] ByPersonAndNight() =>
        [.. problem.Crew.Select(_ => new LinearExpression?[problem.Nights.Count])];

    private void AddShift(Person person, int night)
    {
        var longest = shiftWindows.WindowsOf(person.Index, night).Select(window => window.Longest).DefaultIfEmpty(0).Max();
        if (longest <= 0) return;
        var (step, p) = (problem.ShiftGridMinutes, person.Index);
        var minSteps = Math.Max(1, (person.MinShift + step - 1) / step);
        var isPresent = hasShift[p][night] = model.NewBinary(night);
        var steps = model.NewColumn(0, longest / step, night);
        shiftMinutes[p][night] = new LinearExpression().Add(steps, step);
        model.AddAtMostZero(new LinearExpression().Add(steps).Add(isPresent, -(longest / step)));
        model.AddAtMostZero(new LinearExpression().Add(isPresent, minSteps).Add(steps, -1));
        if (longest > person.BreakAfter)
        {
            var isBreak = hasBreak[p][night] = model.NewBinary(night);
            model.AddAtMostZero(new LinearExpression().Add(isBreak, (person.BreakAfter / step) + 1).Add(steps, -1));
            model.AddAtMostZero(new LinearExpression().Add(steps).Add(isPresent, -(person.BreakAfter / step))
                .Add(isBreak, -(longest / step - person.BreakAfter / step)));
        }
        var maxSlots = shiftWindows.MaxWorkMinutes(p, night) / problem.Grid.SlotMinutes;
        var worked = workMinutes[p][night] =
            new LinearExpression().Add(model.NewColumn(0, maxSlots, night), problem.Grid.SlotMinutes);
        model.AddAtMostZero(new LinearExpression().Add(worked).Add(isPresent, -maxSlots * problem.Grid.SlotMinutes));
        model.AddAtMostZero(new LinearExpression().Add(worked).Add(PaidMinutes(p, night)!, -1));
    }

    private void AddAttendanceRows(NightWindow night)
    {
        var candidates = problem.Crew.Where(person => hasShift[person.Index][night.Index] is not null)
            .Select(person => person.Index).ToArray();
        if (candidates.Length == 0) return;
        var attended = Attended[night.Index] = model.NewBinary(night.Index);
        var attendedMinutes = AttendedMinutes[night.Index] = model.NewColumn(0, night.Span.Minutes, night.Index);
        model.AddAtMostZero(new LinearExpression().Add(attendedMinutes).Add(attended, -night.Span.Minutes));
        foreach (var person in candidates)
        {
            model.AddAtMostZero(new LinearExpression().Add(hasShift[person][night.Index]!).Add(attended, -1));
            model.AddAtMostZero(new LinearExpression().Add(shiftMinutes[person][night.Index]!).Add(attendedMinutes, -1));
            model.AddAtMostZero(new LinearExpression().Add(workMinutes[person][night.Index]!).Add(attendedMinutes, -1)
                .Add(attended, OpeningAndClosingMinutes));
        }
        var lengths = LinearExpression.SumOf(candidates.Select(person => shiftMinutes[person][night.Index]!));
        var people = LinearExpression.SumOf(candidates.Select(person => hasShift[person][night.Index]!));
        var worked = LinearExpression.SumOf(candidates.Select(person => workMinutes[person][night.Index]!));
        var minPeople = problem.Rules.MinPeople ?? 1;
        model.AddAtMostZero(new LinearExpression().Add(attendedMinutes, minPeople).Add(lengths, -1));
        model.AddAtMostZero(new LinearExpression().Add(attended, minPeople).Add(people, -1));
        model.AddAtMostZero(worked.Add(lengths, -1).Add(attended, minPeople * OpeningAndClosingMinutes));
        if (problem.Rules.KeyholderPresent)
            AddKeyholderRows(night, [.. candidates.Where(person => problem.Crew[person].Keyholder)], attended, attendedMinutes);
    }

    private void AddKeyholderRows(
        NightWindow night, int[] keyholders, LinearExpression attended, LinearExpression attendedMinutes)
    {
        var leads = new LinearExpression();
        foreach (var person in keyholders)
        {
            // 1 where this keyholder is the one whose shift spans all others.
            var isLead = model.NewBinary(night.Index);
            leads.Add(isLead);
            model.AddAtMostZero(new LinearExpression().Add(isLead).Add(hasShift[person][night.Index]!, -1));
            model.AddAtMostZero(new LinearExpression().Add(attendedMinutes).Add(shiftMinutes[person][night.Index]!, -1)
                .Add(-night.Span.Minutes).Add(isLead, night.Span.Minutes));
            model.AddAtMostZero(new LinearExpression().Add(workMinutes[person][night.Index]!)
                .Add(shiftMinutes[person][night.Index]!, -1).Add(isLead, OpeningAndClosingMinutes));
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
            if (hasShift[person.Index][night] is { } first && hasShift[person.Index][night + 1] is { } second
                && !CanRest(person, night))
                model.AddAtMostZero(new LinearExpression().Add(first).Add(second).Add(-1));
    }

    /// <summary>The shortest shift of the night, as early as possible, leaves minRest before one of the next night.</summary>
    private bool CanRest(Person person, int night)
    {
        var minShift = Math.Max(person.MinShift, problem.ShiftGridMinutes);
        return shiftWindows.WindowsOf(person.Index, night).Min(window => window.EarliestStart) + minShift + person.MinRest
            <= shiftWindows.WindowsOf(person.Index, night + 1)
                .Max(window => Math.Min(window.LatestStart, window.LatestEnd - minShift));
    }
}
