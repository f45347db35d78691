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
internal sealed class GoalSums(Problem problem, Certificates known, RowModel rows, NightWork work, NightCrew crew)
{
    public (Sum Sum, long Divisor) Of(string goal) => goal switch
    {
        "leftOut" => (LeftOut(problem, work), 1),
        "reserve" => (Reserve(), 1),
        "cost" => (Cost(), 6000),
        "finish" => (Latest((stint, night) => AllDone(stint, known.Windows.Of(stint.Index, night)!.Value.EarliestEnd)), 1),
        "nights" => (Latest((_, night) => night + 1), 1),
        "shifts" => (Shifts(), 1),
        "moves" => (Moves(), 1),
        "uneven" => (Uneven(), 1),
        "changes" => (Changes(), 1),
        _ => (new Sum(), 1),
    };

    public static Sum LeftOut(Problem problem, NightWork work)
    {
        var total = new Sum();
        foreach (var display in problem.Displays.Where(display => display.InsteadOf is null && display.Tasks.Count > 0))
        {
            var value = display.Alternate is { } other && problem.Displays[other].Tasks.Count == 0 ? display.AlternateValue
                : display.Value;
            total.And(value).And(work.Placed(display.Index), -value);
            if (display.Alternate is { } alternate && problem.Displays[alternate].Tasks.Count > 0)
                total.And(work.Placed(alternate), display.AlternateValue - display.Value);
        }
        return total;
    }

    private Sum Reserve()
    {
        var night = problem.Nights[^1];
        if (known.Crew.Begun(night.Index)) return new Sum();
        var used = Sum.Of(work.Of(night.Index).Select(one => new Sum().And(one.At, (long)one.Minutes * one.Way.People)));
        foreach (var zone in problem.Zones)
            if (work.Touched[zone.Index][night.Index] is { } touched)
                used.And(touched, (long)zone.CleanDown!.Minutes * zone.CleanDown.People);
        var available = problem.Crew.Sum(person => (long)Math.Min(
            Spans.Union(person.Available[night.Index].Select(span =>
                new Span(Math.Max(span.From, night.Opens), Math.Min(span.To, night.Closes)))).Sum(span => span.Minutes),
            person.MaxMinutesPerNight));
        var beyond = rows.Column(0, (long)night.Span.Minutes * problem.Crew.Count);
        rows.NotPositive(new Sum().And(used, 100).And(-(problem.Rules.ReservePercent ?? 60) * available).And(beyond, -100));
        return beyond;
    }

    private Sum Cost()
    {
        var total = new Sum();
        var percent = problem.Rules.OvertimePercent ?? 100;
        foreach (var person in problem.Crew)
        {
            var paid = Paid(person);
            total.And(paid, (long)person.Rate * Math.Min(percent, 100));
            if (problem.Rules.OvertimeAfterMinutes is not { } after || percent <= 100)
            {
                if (problem.Rules.OvertimeAfterMinutes is null && percent < 100)
                    total.And(paid, (long)person.Rate * (100 - percent));
                continue;
            }
            var over = rows.Column(0, Problem.Never);
            rows.NotPositive(new Sum().And(paid).And(-Math.Max(0, (long)after - person.MinutesAlready)).And(over, -1));
            total.And(over, (long)person.Rate * (percent - 100));
        }
        return total;
    }

    /// <summary>Minutes paid: those of shifts over, the least that shifts under way come to, and what is planned.</summary>
    private Sum Paid(Person person)
    {
        var paid = Sum.Of(problem.Nights.Select(night => crew.Paid(person.Index, night.Index)).OfType<Sum>());
        foreach (var shift in problem.Facts?.Published.Shifts.Where(shift =>
            shift.Person == person.Index && shift.From < problem.Facts.Now) ?? [])
            paid.And(problem.Facts!.EarliestEnds.TryGetValue((shift.Person, shift.Night), out var end)
                ? Math.Max(0, end - shift.From - person.BreakMinutes) : shift.PaidMinutes);
        return paid;
    }

    private int AllDone(Stint stint, int end) => stint.Task.Last || problem.Facts is not null
        ? end : end + (problem.Zones[stint.Task.Zone].CleanDown?.Minutes ?? 0);

    private Sum Latest(Func<Stint, int, int> value)
    {
        var latest = rows.Column(0, Problem.Never);
        foreach (var stint in problem.Stints)
            rows.NotPositive(Sum.Of(problem.Nights.Where(night => known.Windows.Of(stint.Index, night.Index) is not null)
                .Select(night => new Sum().And(work.In(stint.Index, night.Index), value(stint, night.Index)))).And(latest, -1));
        return latest;
    }

    private Sum Shifts() =>
        Sum.Of(problem.Crew.SelectMany(person => problem.Nights.Select(night => crew.On(person.Index, night.Index)))
            .OfType<Sum>())
        .And(problem.Facts?.Published.Shifts.Where(shift => shift.From < problem.Facts.Now)
            .DistinctBy(shift => (shift.Person, shift.Night)).Count() ?? 0);

    /// <summary>
    /// Whoever works in k zones of a night moves k - 1 times at least. In a zone work as many people as one stint there takes,
    /// and as many as it takes to do all of it, each at work as long as anybody can be. So moves are at least the people of all
    /// zones less the people on.
    /// </summary>
    private Sum Moves()
    {
        var total = new Sum();
        foreach (var night in problem.Nights)
        {
            if (known.Crew.Begun(night.Index)) continue;
            var moves = rows.Column(0, (long)problem.Zones.Count * problem.Crew.Count);
            var on = Sum.Of(problem.Crew.Select(person => crew.On(person.Index, night.Index)).OfType<Sum>());
            rows.NotPositive(Sum.Of(problem.Zones.Select(zone => PeopleIn(zone, night))).And(on, -1).And(moves, -1));
            total.And(moves);
        }
        return total;
    }

    /// <summary>People who work in a zone in a night, at the least.</summary>
    private Sum PeopleIn(ZoneRoom zone, NightWindow night)
    {
        var (people, minutes) = (rows.Column(0, problem.Crew.Count), new Sum());
        foreach (var (stint, way, length, at) in work.Of(night.Index))
        {
            if (stint.Task.Zone != zone.Index || way.People == 0) continue;
            rows.NotPositive(new Sum().And(at, way.People).And(people, -1));
            minutes.And(at, (long)length * way.People);
        }
        if (zone.CleanDown is { People: > 0 } down && work.Touched[zone.Index][night.Index] is { } touched)
        {
            rows.NotPositive(new Sum().And(touched, down.People).And(people, -1));
            minutes.And(touched, (long)down.Minutes * down.People);
        }
        var longest = problem.Crew.Select(person => known.Crew.MostWork(person.Index, night.Index)).DefaultIfEmpty(0).Max();
        if (longest > 0) rows.NotPositive(minutes.And(people, -longest));
        return people;
    }

    private Sum Uneven()
    {
        var (most, least) = (rows.Column(0, Problem.Never), rows.Column(0, Problem.Never));
        foreach (var person in problem.Crew.Where(person => person.Available.Any(entries => entries.Count > 0)))
        {
            // What is left of a shift under way is not known exactly, so then nothing is claimed of its person.
            if (problem.Facts?.BegunShifts.Any(shift => shift.Person == person.Index) == true) continue;
            if (problem.Facts is { } facts
                && problem.Nights.Any(night => known.Crew.Begun(night.Index) && night.Closes > facts.Now)) continue;
            rows.NotPositive(Paid(person).And(most, -1));
            rows.NotPositive(new Sum().And(least).And(Paid(person), -1));
        }
        return new Sum().And(most).And(least, -1);
    }

    private Sum Changes()
    {
        if (problem.Facts is not { } facts) return new Sum();
        var (total, notice) = (new Sum(), facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never));
        var before = facts.Published.Shifts.DistinctBy(shift => (shift.Person, shift.Night))
            .ToDictionary(shift => (shift.Person, shift.Night));
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights.Where(night => !known.Crew.Begun(night.Index)))
            {
                var on = crew.On(person.Index, night.Index);
                if (before.TryGetValue((person.Index, night.Index), out var shift))
                {
                    var dropped = shift.From < notice ? 6 : 2;
                    total.And(dropped);
                    if (on is null) continue;
                    total.And(on, -dropped).And(Moved(person, shift, on), shift.From < notice ? 3 : 1);
                }
                else if (on is not null)
                    total.And(on, known.Crew.Of(person.Index, night.Index).All(room => room.LatestFrom < notice) ? 6 : 2);
            }
        var published = facts.Published.ByStint(problem);
        foreach (var stint in problem.Stints.Where(stint =>
            facts.Begun[stint.Index] is null && published[stint.Index] is not null))
            total.And(work.Placed(stint)).And(work.In(stint.Index, published[stint.Index]!.Night), -1);
        return total;
    }

    /// <summary>
    /// A shift that stays and is as long as it was may lie where it was; one that is longer or shorter does not, nor one whose
    /// hours no room of its person-night has any more.
    /// </summary>
    private Sum Moved(Person person, Shift shift, Sum on)
    {
        var (moved, length) = (rows.Flag(), crew.Length(person.Index, shift.Night)!);
        var rooms = known.Crew.Of(person.Index, shift.Night).ToArray();
        var longest = rooms.Max(room => room.Longest);
        rows.NotPositive(new Sum().And(length).And(on, -shift.Span.Minutes).And(moved, -Math.Max(0, longest - shift.Span.Minutes)));
        rows.NotPositive(new Sum().And(on, shift.Span.Minutes).And(length, -1).And(moved, -shift.Span.Minutes));
        if (!rooms.Any(room => room.From <= shift.From && shift.From <= room.LatestFrom && shift.To <= room.To
            && shift.Span.Minutes <= room.MaxMinutes))
            rows.NotPositive(new Sum().And(on).And(moved, -1));
        return moved;
    }
}
