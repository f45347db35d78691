using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Each goal as a sum over the night master's columns: divided by its divisor and rounded up, the least of it is a bound.
/// leftOut and shifts are exact; reserve counts work at its modes' minutes; cost pays lengths less breaks; finish and nights
/// ask no more than that each stint ends at its earliest in its night; moves counts the people of zones beyond those on; uneven
/// and changes count what roster and nights show, of shifts their lengths and not their hours. Nights that have begun, and what is begun, are counted as they stand or not
/// at all.
/// </summary>
internal sealed class NightMasterGoals(Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    public (LinearExpression Sum, long Divisor) Of(GoalId goal) => goal switch
    {
        GoalId.LeftOut => (LeftOut(problem, work), 1),
        GoalId.Reserve => (Reserve(), 1),
        GoalId.Cost => (Cost(), 6000),
        GoalId.Finish => (MaxOverStints((stint, night) => CompletionOf(stint, propagation.Windows.WindowOf(stint.Index, night)!.Value.EarliestEnd)), 1),
        GoalId.Nights => (MaxOverStints((_, night) => night + 1), 1),
        GoalId.Shifts => (Shifts(), 1),
        GoalId.Moves => (Moves(), 1),
        GoalId.Uneven => (Uneven(), 1),
        GoalId.Changes => (Changes(), 1),
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
        var used = LinearExpression.SumOf(work.ColumnsIn(night.Index).Select(one => new LinearExpression().Add(one.At, (long)one.Minutes * one.Way.People)));
        foreach (var zone in problem.Zones)
            if (work.CleanDownDue[zone.Index][night.Index] is { } touched)
                used.Add(touched, (long)zone.CleanDown!.Minutes * zone.CleanDown.People);
        var available = problem.Crew.Sum(person => (long)Math.Min(
            SpanSets.Union(person.Available[night.Index].Select(span =>
                new Span(Math.Max(span.From, night.Opens), Math.Min(span.To, night.Closes)))).Sum(span => span.Minutes),
            person.MaxMinutesPerNight));
        var beyond = model.NewColumn(0, (long)night.Span.Minutes * problem.Crew.Count);
        model.AddAtMostZero(new LinearExpression().Add(used, 100).Add(-(problem.Rules.ReservePercent ?? 60) * available).Add(beyond, -100));
        return beyond;
    }

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
            var over = model.NewColumn(0, Problem.Never);
            model.AddAtMostZero(new LinearExpression().Add(paid).Add(-Math.Max(0, (long)after - person.MinutesAlready)).Add(over, -1));
            total.Add(over, (long)person.Rate * (percent - 100));
        }
        return total;
    }

    /// <summary>Minutes paid: those of shifts over, the least that shifts under way come to, and what is planned.</summary>
    private LinearExpression Paid(Person person)
    {
        var paid = LinearExpression.SumOf(problem.Nights.Select(night => roster.PaidMinutes(person.Index, night.Index)).OfType<LinearExpression>());
        foreach (var shift in problem.Facts?.Published.Shifts.Where(shift =>
            shift.Person == person.Index && shift.From < problem.Facts.Now) ?? [])
            paid.Add(problem.Facts!.EarliestEnds.TryGetValue((shift.Person, shift.Night), out var end)
                ? Math.Max(0, end - shift.From - person.BreakMinutes) : shift.PaidMinutes);
        return paid;
    }

    private int CompletionOf(Stint stint, int end) => stint.Task.IsLastTask || problem.Facts is not null
        ? end : end + (problem.Zones[stint.Task.Zone].CleanDown?.Minutes ?? 0);

    private LinearExpression MaxOverStints(Func<Stint, int, int> value)
    {
        var latest = model.NewColumn(0, Problem.Never);
        foreach (var stint in problem.Stints)
            model.AddAtMostZero(LinearExpression.SumOf(problem.Nights.Where(night => propagation.Windows.WindowOf(stint.Index, night.Index) is not null)
                .Select(night => new LinearExpression().Add(work.InNight(stint.Index, night.Index), value(stint, night.Index)))).Add(latest, -1));
        return latest;
    }

    private LinearExpression Shifts() =>
        LinearExpression.SumOf(problem.Crew.SelectMany(person => problem.Nights.Select(night => roster.HasShift(person.Index, night.Index)))
            .OfType<LinearExpression>())
        .Add(problem.Facts?.Published.Shifts.Where(shift => shift.From < problem.Facts.Now)
            .DistinctBy(shift => (shift.Person, shift.Night)).Count() ?? 0);

    /// <summary>
    /// Whoever works in k zones of a night moves k - 1 times at least. In a zone work as many people as one stint there takes,
    /// and as many as it takes to do all of it, each at work as long as anybody can be. So moves are at least the people of all
    /// zones less the people on.
    /// </summary>
    private LinearExpression Moves()
    {
        var total = new LinearExpression();
        foreach (var night in problem.Nights)
        {
            if (propagation.ShiftWindows.HasBegun(night.Index)) continue;
            var moves = model.NewColumn(0, (long)problem.Zones.Count * problem.Crew.Count);
            var on = LinearExpression.SumOf(problem.Crew.Select(person => roster.HasShift(person.Index, night.Index)).OfType<LinearExpression>());
            model.AddAtMostZero(LinearExpression.SumOf(problem.Zones.Select(zone => PeopleIn(zone, night))).Add(on, -1).Add(moves, -1));
            total.Add(moves);
        }
        return total;
    }

    /// <summary>People who work in a zone in a night, at the least.</summary>
    private LinearExpression PeopleIn(IndexedZone zone, NightWindow night)
    {
        var (people, minutes) = (model.NewColumn(0, problem.Crew.Count), new LinearExpression());
        foreach (var (stint, mode, length, at) in work.ColumnsIn(night.Index))
        {
            if (stint.Task.Zone != zone.Index || mode.People == 0) continue;
            model.AddAtMostZero(new LinearExpression().Add(at, mode.People).Add(people, -1));
            minutes.Add(at, (long)length * mode.People);
        }
        if (zone.CleanDown is { People: > 0 } down && work.CleanDownDue[zone.Index][night.Index] is { } touched)
        {
            model.AddAtMostZero(new LinearExpression().Add(touched, down.People).Add(people, -1));
            minutes.Add(touched, (long)down.Minutes * down.People);
        }
        var longest = problem.Crew.Select(person => propagation.ShiftWindows.MaxWorkMinutes(person.Index, night.Index)).DefaultIfEmpty(0).Max();
        if (longest > 0) model.AddAtMostZero(minutes.Add(people, -longest));
        return people;
    }

    private LinearExpression Uneven()
    {
        var (most, least) = (model.NewColumn(0, Problem.Never), model.NewColumn(0, Problem.Never));
        foreach (var person in problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0)))
        {
            // What is left of a shift under way is not known exactly, so then nothing is claimed of its person.
            if (problem.Facts?.BegunShifts.Any(shift => shift.Person == person.Index) == true) continue;
            if (problem.Facts is { } facts
                && problem.Nights.Any(night => propagation.ShiftWindows.HasBegun(night.Index) && night.Closes > facts.Now)) continue;
            model.AddAtMostZero(Paid(person).Add(most, -1));
            model.AddAtMostZero(new LinearExpression().Add(least).Add(Paid(person), -1));
        }
        return new LinearExpression().Add(most).Add(least, -1);
    }

    private LinearExpression Changes()
    {
        if (problem.Facts is not { } facts) return new LinearExpression();
        var (total, notice) = (new LinearExpression(), facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never));
        var before = facts.Published.Shifts.DistinctBy(shift => (shift.Person, shift.Night))
            .ToDictionary(shift => (shift.Person, shift.Night));
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
            {
                var on = roster.HasShift(person.Index, night.Index);
                if (before.TryGetValue((person.Index, night.Index), out var shift))
                {
                    var dropped = shift.From < notice ? 6 : 2;
                    total.Add(dropped);
                    if (on is null) continue;
                    total.Add(on, -dropped).Add(Moved(person, shift, on), shift.From < notice ? 3 : 1);
                }
                else if (on is not null)
                    total.Add(on, propagation.ShiftWindows.WindowsOf(person.Index, night.Index).All(room => room.LatestStart < notice) ? 6 : 2);
            }
        var published = facts.Published.WorkByStint(problem);
        foreach (var stint in problem.Stints.Where(stint =>
            facts.BegunWork[stint.Index] is null && published[stint.Index] is not null))
            total.Add(work.Placed(stint)).Add(work.InNight(stint.Index, published[stint.Index]!.Night), -1);
        return total;
    }

    /// <summary>
    /// A shift that stays and is as long as it was may lie where it was; one that is longer or shorter does not, nor one whose
    /// hours no room of its person-night has any more.
    /// </summary>
    private LinearExpression Moved(Person person, ScheduledShift shift, LinearExpression on)
    {
        var (moved, length) = (model.NewBinary(), roster.ShiftMinutes(person.Index, shift.Night)!);
        var rooms = propagation.ShiftWindows.WindowsOf(person.Index, shift.Night).ToArray();
        var longest = rooms.Max(room => room.Longest);
        model.AddAtMostZero(new LinearExpression().Add(length).Add(on, -shift.Span.Minutes).Add(moved, -Math.Max(0, longest - shift.Span.Minutes)));
        model.AddAtMostZero(new LinearExpression().Add(on, shift.Span.Minutes).Add(length, -1).Add(moved, -shift.Span.Minutes));
        if (!rooms.Any(room => room.EarliestStart <= shift.From && shift.From <= room.LatestStart && shift.To <= room.LatestEnd
            && shift.Span.Minutes <= room.MaxMinutes))
            model.AddAtMostZero(new LinearExpression().Add(on).Add(moved, -1));
        return moved;
    }
}
