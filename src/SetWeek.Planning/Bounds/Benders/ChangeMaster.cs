using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Master problem of the Benders decomposition. It chooses the night of every stint and, by night, the shifts that are added,
/// dropped or moved. Why every valid plan meets the rows:
/// those of <see cref="WorkColumns"/> say so there;
/// maxNights bounds the shifts of each person;
/// a published shift whose times fit no shift window is dropped or moved;
/// one-place, skill, on-shift: the minutes that only a Hall set can work are at most the minutes that its people can work, in
/// their published shifts or in the longest other shifts that they can have.
/// Benders cuts add what the times within a night cost beyond that.
/// </summary>
internal sealed class ChangeMaster
{
    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly ReplanFacts facts;
    private readonly LinearExpression[] shiftChanges, changes;
    private readonly LinearExpression?[,] added, dropped, moved;
    private readonly Dictionary<(int Person, int Night), ScheduledShift> publishedShifts;

    public ChangeMaster(Problem problem, RootPropagation propagation)
    {
        (this.problem, this.propagation, facts) = (problem, propagation, problem.Facts!);
        Work = new WorkColumns(problem, propagation, Model);
        (added, dropped, moved) = (ByPersonAndNight(), ByPersonAndNight(), ByPersonAndNight());
        publishedShifts = facts.Published.ShiftsByPersonNight();
        shiftChanges = [.. problem.Nights.Select(night =>
            night.Closes <= facts.Now ? new LinearExpression() : Model.NewColumn(0, 6L * problem.Crew.Count))];
        foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
        {
            AddShiftChangeRows(night.Index);
            foreach (var set in propagation.HallSets.Sets) AddCapacityRow(set, night.Index);
        }
        foreach (var person in problem.Crew) AddNightLimitRow(person);
        changes = [.. shiftChanges.Select(sum => new LinearExpression().Add(sum))];
        var published = facts.Published.WorkByStint(problem);
        foreach (var stint in problem.Stints)
            if (facts.BegunWork[stint.Index] is null && published[stint.Index] is { } work)
                changes[work.Night].Add(Work.Placed(stint)).Add(Work.InNight(stint.Index, work.Night), -1);
        Changes = LinearExpression.SumOf(changes);
    }

    public LinearModel Model { get; } = new();
    public WorkColumns Work { get; }

    /// <summary>The changes of the re-plan. The minimum is a lower bound.</summary>
    public LinearExpression Changes { get; }

    /// <summary>
    /// The changes of one night: those to its shifts, and its published stints that have moved to another night.
    /// </summary>
    public LinearExpression ChangesOf(int night) => changes[night];

    /// <summary>The changes to shifts of one night.</summary>
    public LinearExpression ShiftChangesOf(int night) => shiftChanges[night];

    /// <summary>The published plan gives the person maxNights shifts, so an added shift means a dropped one elsewhere.</summary>
    public bool IsAtNightLimit(Person person) =>
        person.MaxNights <= publishedShifts.Keys.Count(key => key.Person == person.Index);

    public void CapLeftOut(long value) => Model.AddAtMostZero(NightMasterGoals.LeftOut(problem, Work).Add(-value));

    /// <summary>
    /// Adds a Benders cut: the shift changes of the query's night, plus addition and removal costs, are at least the minimum.
    /// Where a required stint is elsewhere, they are at least the second value.
    /// </summary>
    public void AddCut(ChangeSubproblemQuery query, long minimum, long minimumIfStintAbsent)
    {
        var row = new LinearExpression().Add(minimum).Add(shiftChanges[query.Night], -1);
        foreach (var person in problem.Crew)
            if (added[person.Index, query.Night] is { } isAdded) row.Add(isAdded, -query.AdditionCosts[person.Index]);
        foreach (var stint in query.OptionalStints)
            row.Add(-query.RemovalCost).Add(Work.InNight(stint, query.Night), query.RemovalCost);
        foreach (var stint in query.RequiredStints)
            row.Add(minimumIfStintAbsent - minimum)
                .Add(Work.InNight(stint, query.Night), minimum - minimumIfStintAbsent);
        Model.AddAtMostZero(row);
    }

    /// <summary>Adds a no-good cut: the stints are not all in the night.</summary>
    public void AddNoGood(int night, IReadOnlyList<int> stints) =>
        Model.AddAtMostZero(LinearExpression.SumOf(stints.Select(stint => Work.InNight(stint, night))).Add(1 - stints.Count));

    /// <summary>Adds a proven bound of all changes.</summary>
    public void AddBound(long minimum) => Model.AddAtMostZero(new LinearExpression().Add(minimum).Add(Changes, -1));

    private LinearExpression?[,] ByPersonAndNight() => new LinearExpression?[problem.Crew.Count, problem.Nights.Count];

    /// <summary>
    /// The changes to shifts of a night are at least 2 for each shift added or dropped and 1 for each moved; three times that
    /// where the notice is short in every case.
    /// </summary>
    private void AddShiftChangeRows(int night)
    {
        var row = new LinearExpression().Add(shiftChanges[night], -1);
        var notice = ChangesGoal.NoticeEnd(problem, facts);
        foreach (var person in problem.Crew)
        {
            var windows = propagation.ShiftWindows.WindowsOf(person.Index, night);
            if (!publishedShifts.TryGetValue((person.Index, night), out var shift))
            {
                if (windows.Count > 0)
                    row.Add(added[person.Index, night] = Model.NewBinary(),
                        ChangesGoal.PresenceWeight
                            * ChangesGoal.FactorAt(windows.Max(window => window.LatestStart), notice));
                continue;
            }
            var isDropped = dropped[person.Index, night] =
                windows.Count == 0 ? new LinearExpression().Add(1) : Model.NewBinary();
            var isMoved = moved[person.Index, night] = windows.Count == 0 ? new LinearExpression() : Model.NewBinary();
            var factor = ChangesGoal.FactorAt(shift.From, notice);
            row.Add(isDropped, ChangesGoal.PresenceWeight * factor).Add(isMoved, ChangesGoal.MoveWeight * factor);
            if (!windows.Any(window => window.Admits(shift.Span)))
                Model.AddAtMostZero(new LinearExpression().Add(1).Add(isDropped, -1).Add(isMoved, -1));
        }
        Model.AddAtMostZero(row);
    }

    private void AddCapacityRow(ulong set, int night)
    {
        var row = new LinearExpression();
        foreach (var column in Work.ColumnsIn(night))
            row.Add(column.IsDone,
                (long)column.Minutes * propagation.HallSets.MinPeopleFrom(set, column.Mode, column.Stint.Task));
        foreach (var zone in problem.Zones)
            if (Work.CleanDownDue[zone.Index][night] is { } isDue)
                row.Add(isDue, (long)zone.CleanDown!.Minutes * propagation.HallSets.MinPeopleFrom(set, zone.CleanDown, null));
        if (row.Terms.Count == 0) return;
        foreach (var person in problem.Crew.Where(person => HallSets.Contains(set, person.Index)))
        {
            var most = propagation.ShiftWindows.MaxWorkMinutes(person.Index, night);
            if (added[person.Index, night] is { } isAdded) row.Add(isAdded, -most);
            if (!publishedShifts.TryGetValue((person.Index, night), out var shift)) continue;
            var workable = WorkableMinutes(shift);
            row.Add(-workable).Add(dropped[person.Index, night]!, workable)
                .Add(moved[person.Index, night]!, -Math.Max(0, most - workable));
        }
        Model.AddAtMostZero(row);
    }

    /// <summary>Upper bound on the minutes worked in a shift: its paid minutes, and its overlap with the work spans.</summary>
    private int WorkableMinutes(ScheduledShift shift) => Math.Min(shift.PaidMinutes,
        propagation.ShiftWindows.WorkSpans(shift.Night)
            .Sum(span => Math.Max(0, Math.Min(span.To, shift.To) - Math.Max(span.From, shift.From))));

    /// <summary>
    /// Shifts begun or over count as published. If there are more of them than maxNights, the person has no other shift.
    /// </summary>
    private void AddNightLimitRow(Person person)
    {
        if (person.MaxNights >= problem.Nights.Count) return;
        var published = publishedShifts.Values.Where(shift => shift.Person == person.Index).ToArray();
        var row = new LinearExpression().Add(published.Length);
        for (var night = 0; night < problem.Nights.Count; night++)
            row.Add(added[person.Index, night] ?? new LinearExpression())
                .Add(dropped[person.Index, night] ?? new LinearExpression(), -1);
        Model.AddAtMostZero(row.Add(-Math.Max(published.Count(shift => shift.From < facts.Now), person.MaxNights)));
    }
}
