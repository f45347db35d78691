using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Each goal as a sum over the night master's columns. Its minimum, divided by the divisor and rounded up, is a lower bound.
/// leftOut and shifts are exact. reserve counts each stint's minutes in its mode. cost pays shift lengths less breaks. finish and
/// nights let each stint end as early as it can in its night. bare is exact. handovers is 0: the columns have no people. moves
/// counts the people that the zones need beyond those on shift. uneven and changes use the lengths of shifts, not their times.
/// shuffled counts stints whose published people or time the night no longer allows. Begun nights and begun work count as
/// published, or not at all.
/// </summary>
internal sealed class NightMasterGoals(
    Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    public (LinearExpression Sum, long Divisor) Of(GoalId goal) => goal switch
    {
        GoalId.LeftOut => (LeftOut(problem, work), 1),
        GoalId.Hold => (new LinearExpression(), 1),
        GoalId.Reserve => (Reserve(), 1),
        GoalId.Bare => (Bare(), 1),
        GoalId.Cost => (Cost(), 6000),
        GoalId.Finish => (MaxOverStints(EarliestCompletion), 1),
        GoalId.Nights => (MaxOverStints((_, night) => night + 1), 1),
        GoalId.Shifts => (Shifts(), 1),
        GoalId.Handovers => (new LinearExpression(), 1),
        GoalId.Moves => (Moves(), 1),
        GoalId.Uneven => (Uneven(), 1),
        GoalId.Changes => (Changes(), 1),
        GoalId.Shuffled => (Shuffled(), 1),
    };

    public static LinearExpression LeftOut(Problem problem, WorkColumns work)
    {
        var total = new LinearExpression();
        foreach (var display in problem.Displays.Where(display => display.AlternateOf is null && display.Tasks.Count > 0))
        {
            var value = display.Alternate is { } other && problem.Displays[other].Tasks.Count == 0 ? display.AlternateValue
                : display.Value;
            total.Add(value).Add(work.Placed(display.Index), -value);
            if (display.Alternate is { } alternate && problem.Displays[alternate].Tasks.Count > 0)
                total.Add(work.Placed(alternate), display.AlternateValue - display.Value);
        }
        return total;
    }

    private LinearExpression Reserve()
    {
        var night = problem.Nights[^1];
        if (propagation.ShiftWindows.HasBegun(night.Index)) return new LinearExpression();
        var used = LinearExpression.SumOf(work.ColumnsIn(night.Index)
            .Select(column => new LinearExpression().Add(column.IsDone, (long)column.Minutes * column.Mode.People)));
        foreach (var zone in problem.Zones)
            if (work.CleanDownDue[zone.Index][night.Index] is { } isDue)
                used.Add(isDue, (long)zone.CleanDown!.Minutes * zone.CleanDown.People);
        var available = problem.Crew.Sum(person => (long)person.MinutesAvailable(night));
        var beyond = model.NewColumn(0, (long)night.Span.Minutes * problem.Crew.Count);
        model.AddAtMostZero(new LinearExpression().Add(used, 100)
            .Add(-(problem.Rules.ReservePercent ?? 60) * available).Add(beyond, -100));
        return beyond;
    }

    /// <summary>
    /// A zone is bare at a closes where a stint that empties it lies in that night or earlier and one that fills it lies later.
    /// </summary>
    private LinearExpression Bare()
    {
        var total = new LinearExpression();
        foreach (var zone in problem.Zones.Where(zone => zone.TradePerDay > 0))
        {
            Stint[] stints = [.. problem.Stints.Where(stint => stint.Task.Zone == zone.Index)];
            foreach (var night in problem.Nights)
            {
                LinearExpression[] emptied = [.. stints.Where(stint => stint.Task.Empties)
                    .Select(stint => EndsBy(stint, night)).Where(sum => !sum.IsZero)];
                LinearExpression[] unfilled = [.. stints.Where(stint => stint.Task.Fills && stint.IsLast)
                    .Select(stint => new LinearExpression().Add(work.Placed(stint)).Add(EndsBy(stint, night), -1))];
                if (emptied.Length == 0 || unfilled.Length == 0) continue;
                var (isEmptied, isUnfilled, isBare) = (model.NewBinary(), model.NewBinary(), model.NewBinary());
                foreach (var sum in emptied) model.AddAtMostZero(new LinearExpression().Add(sum).Add(isEmptied, -1));
                foreach (var sum in unfilled) model.AddAtMostZero(new LinearExpression().Add(sum).Add(isUnfilled, -1));
                model.AddAtMostZero(new LinearExpression().Add(isEmptied).Add(isUnfilled).Add(-1).Add(isBare, -1));
                total.Add(isBare, zone.TradePerDay);
            }
        }
        return total;
    }

    /// <summary>1 where the stint has ended by the night's closes. Work that has not begun ends within its night.</summary>
    private LinearExpression EndsBy(Stint stint, NightWindow night) =>
        problem.Facts?.BegunWork[stint.Index] is { } begun
            ? new LinearExpression().Add(begun.To <= night.Closes ? 1 : 0)
            : LinearExpression.SumOf(problem.Nights.Take(night.Index + 1)
                .Select(earlier => work.InNight(stint.Index, earlier.Index)));

    private LinearExpression Cost()
    {
        var total = new LinearExpression();
        var percent = problem.Rules.OvertimePercent ?? 100;
        foreach (var person in problem.Crew)
        {
            var paid = Paid(person);
            total.Add(paid, (long)person.Rate * Math.Min(percent, 100));
            if (problem.Rules.OvertimeAfterMinutes is not { } after || percent <= 100)
            {
                if (problem.Rules.OvertimeAfterMinutes is null && percent < 100)
                    total.Add(paid, (long)person.Rate * (100 - percent));
                continue;
            }
            var overtime = model.NewColumn(0, Problem.Never);
            model.AddAtMostZero(new LinearExpression().Add(paid).Add(-Math.Max(0, (long)after - person.MinutesAlready))
                .Add(overtime, -1));
            total.Add(overtime, (long)person.Rate * (percent - 100));
        }
        return total;
    }

    /// <summary>
    /// Paid minutes: those of shifts that are over, the fewest possible of shifts under way, and those of planned shifts.
    /// </summary>
    private LinearExpression Paid(Person person)
    {
        var paid = LinearExpression.SumOf(problem.Nights.Select(night => roster.PaidMinutes(person.Index, night.Index))
            .OfType<LinearExpression>());
        foreach (var shift in problem.Facts?.Published.Shifts.Where(shift =>
            shift.Person == person.Index && shift.From < problem.Facts.Now) ?? [])
            paid.Add(problem.Facts!.EarliestEnds.TryGetValue((shift.Person, shift.Night), out var end)
                ? Math.Max(0, end - shift.From - person.BreakMinutes) : shift.PaidMinutes);
        return paid;
    }

    /// <summary>The earliest end of a stint in a night, followed by the clean-down that it requires.</summary>
    private int EarliestCompletion(Stint stint, int night) =>
        propagation.Windows.WindowOf(stint.Index, night)!.Value.EarliestEnd + problem.CleanDownMinutesAfter(stint.Task);

    /// <summary>The maximum over all placed stints of a value that depends on the stint and its night.</summary>
    private LinearExpression MaxOverStints(Func<Stint, int, int> value)
    {
        var maximum = model.NewColumn(0, Problem.Never);
        foreach (var stint in problem.Stints)
            model.AddAtMostZero(LinearExpression.SumOf(problem.Nights
                .Where(night => propagation.Windows.WindowOf(stint.Index, night.Index) is not null)
                .Select(night => new LinearExpression()
                    .Add(work.InNight(stint.Index, night.Index), value(stint, night.Index)))).Add(maximum, -1));
        return maximum;
    }

    private LinearExpression Shifts() =>
        LinearExpression.SumOf(problem.Crew
            .SelectMany(person => problem.Nights.Select(night => roster.HasShift(person.Index, night.Index)))
            .OfType<LinearExpression>())
        .Add(problem.Facts?.Published.Shifts.Where(shift => shift.From < problem.Facts.Now)
            .DistinctBy(shift => (shift.Person, shift.Night)).Count() ?? 0);

    /// <summary>
    /// A person who works in k zones in a night moves at least k - 1 times. So the moves of a night are at least the people
    /// needed in each zone, summed over zones, less the people on shift.
    /// </summary>
    private LinearExpression Moves()
    {
        var total = new LinearExpression();
        foreach (var night in problem.Nights)
        {
            if (propagation.ShiftWindows.HasBegun(night.Index)) continue;
            var moves = model.NewColumn(0, (long)problem.Zones.Count * problem.Crew.Count);
            var onShift = LinearExpression.SumOf(problem.Crew.Select(person => roster.HasShift(person.Index, night.Index))
                .OfType<LinearExpression>());
            model.AddAtMostZero(LinearExpression.SumOf(problem.Zones.Select(zone => PeopleIn(zone, night)))
                .Add(onShift, -1).Add(moves, -1));
            total.Add(moves);
        }
        return total;
    }

    /// <summary>
    /// Fewest people who work in a zone in a night: as many as any one stint takes, and enough to work all of its minutes if
    /// each works as long as anybody can.
    /// </summary>
    private LinearExpression PeopleIn(IndexedZone zone, NightWindow night)
    {
        var (people, minutes) = (model.NewColumn(0, problem.Crew.Count), new LinearExpression());
        foreach (var (stint, mode, length, isDone) in work.ColumnsIn(night.Index))
        {
            if (stint.Task.Zone != zone.Index || mode.People == 0) continue;
            model.AddAtMostZero(new LinearExpression().Add(isDone, mode.People).Add(people, -1));
            minutes.Add(isDone, (long)length * mode.People);
        }
        if (zone.CleanDown is { People: > 0 } cleanDown && work.CleanDownDue[zone.Index][night.Index] is { } isDue)
        {
            model.AddAtMostZero(new LinearExpression().Add(isDue, cleanDown.People).Add(people, -1));
            minutes.Add(isDue, (long)cleanDown.Minutes * cleanDown.People);
        }
        var longest = problem.Crew.Select(person => propagation.ShiftWindows.MaxWorkMinutes(person.Index, night.Index))
            .DefaultIfEmpty(0).Max();
        if (longest > 0) model.AddAtMostZero(minutes.Add(people, -longest));
        return people;
    }

    private LinearExpression Uneven()
    {
        var (most, least) = (model.NewColumn(0, Problem.Never), model.NewColumn(0, Problem.Never));
        foreach (var person in problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0)))
        {
            // The final length of a shift under way is unknown, so its person is left out.
            if (problem.Facts?.BegunShifts.Any(shift => shift.Person == person.Index) == true) continue;
            if (problem.Facts is { } facts && problem.Nights
                .Any(night => propagation.ShiftWindows.HasBegun(night.Index) && night.Closes > facts.Now)) continue;
            model.AddAtMostZero(Paid(person).Add(most, -1));
            model.AddAtMostZero(new LinearExpression().Add(least).Add(Paid(person), -1));
        }
        return new LinearExpression().Add(most).Add(least, -1);
    }

    private LinearExpression Changes()
    {
        if (problem.Facts is not { } facts) return new LinearExpression();
        var (total, notice) = (new LinearExpression(), ChangesGoal.NoticeEnd(problem, facts));
        var publishedShifts = facts.Published.ShiftsByPersonNight();
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
            {
                var hasShift = roster.HasShift(person.Index, night.Index);
                if (publishedShifts.TryGetValue((person.Index, night.Index), out var shift))
                {
                    var factor = ChangesGoal.FactorAt(shift.From, notice);
                    var dropped = ChangesGoal.PresenceWeight * factor;
                    total.Add(dropped);
                    if (hasShift is null) continue;
                    total.Add(hasShift, -dropped).Add(Moved(person, shift, hasShift), ChangesGoal.MoveWeight * factor);
                }
                else if (hasShift is not null)
                    total.Add(hasShift, ChangesGoal.PresenceWeight * ChangesGoal.FactorAt(
                        propagation.ShiftWindows.WindowsOf(person.Index, night.Index).Max(window => window.LatestStart), notice));
            }
        var published = facts.Published.WorkByStint(problem);
        foreach (var stint in problem.Stints.Where(stint =>
            facts.BegunWork[stint.Index] is null && published[stint.Index] is not null))
            total.Add(work.Placed(stint)).Add(work.InNight(stint.Index, published[stint.Index]!.Night), -1);
        return total;
    }

    /// <summary>
    /// 1 where a published shift is kept with other times. That is certain if its length changes, or if its published times fit
    /// no shift window any more.
    /// </summary>
    private LinearExpression Moved(Person person, ScheduledShift shift, LinearExpression hasShift)
    {
        var (moved, length) = (model.NewBinary(), roster.ShiftMinutes(person.Index, shift.Night)!);
        var windows = propagation.ShiftWindows.WindowsOf(person.Index, shift.Night);
        var (minutes, longest) = (shift.Span.Minutes, windows.Max(window => window.Longest));
        model.AddAtMostZero(new LinearExpression().Add(length).Add(hasShift, -minutes)
            .Add(moved, -Math.Max(0, longest - minutes)));
        model.AddAtMostZero(new LinearExpression().Add(hasShift, minutes).Add(length, -1).Add(moved, -minutes));
        if (!windows.Any(window => window.Admits(shift.Span)))
            model.AddAtMostZero(new LinearExpression().Add(hasShift).Add(moved, -1));
        return moved;
    }

    /// <summary>
    /// A stint in its published night is shuffled if one of its people has no shift there at the published time, give or take the
    /// tolerance, or if the stint itself cannot start then.
    /// </summary>
    private LinearExpression Shuffled()
    {
        var total = new LinearExpression();
        if (problem.Facts is not { } facts) return total;
        var published = facts.Published.WorkByStint(problem);
        foreach (var stint in problem.Stints)
            if (!facts.HasBegun[stint.Index] && published[stint.Index] is { } before && CannotStay(facts, stint, before))
                total.Add(work.InNight(stint.Index, before.Night));
        return total;
    }

    private bool CannotStay(ReplanFacts facts, Stint stint, ScheduledWork before)
    {
        var (from, to) = (before.From - ShuffledGoal.StartToleranceMinutes, before.From + ShuffledGoal.StartToleranceMinutes);
        if (propagation.Windows.WindowOf(stint.Index, before.Night) is { } window
            && (window.EarliestStart > to || facts.Now > to)) return true;
        return !propagation.ShiftWindows.HasBegun(before.Night) && before.Assignments.Any(assignment =>
            propagation.ShiftWindows.WindowsOf(assignment.Person, before.Night)
                .All(shift => shift.EarliestStart > to || shift.LatestEnd <= from));
    }
}
