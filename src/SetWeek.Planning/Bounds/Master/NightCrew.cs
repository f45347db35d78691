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
internal sealed class NightCrew
{
    private readonly Problem problem;
    private readonly CrewRooms rooms;
    private readonly RowModel rows;
    private readonly Sum?[][] on, length, broken, work;

    public NightCrew(Problem problem, CrewRooms rooms, RowModel rows)
    {
        (this.problem, this.rooms, this.rows) = (problem, rooms, rows);
        (on, length, broken, work) = (Grid(), Grid(), Grid(), Grid());
        Open = new Sum?[problem.Nights.Count];
        Span = new Sum?[problem.Nights.Count];
        foreach (var night in problem.Nights.Where(night => !rooms.Begun(night.Index)))
        {
            foreach (var person in problem.Crew) Shift(person, night.Index);
            Together(night);
        }
        foreach (var person in problem.Crew) OverTheWeek(person);
    }

    /// <summary>By night: somebody is on. Null for nights that have begun and those that nobody can work.</summary>
    public Sum?[] Open { get; }

    /// <summary>
    /// By night: minutes from the first shift's start to the last one's end (at least as long as the longest shift).
    /// </summary>
    public Sum?[] Span { get; }

    /// <summary>Minutes of opening and closing, in which nobody works.</summary>
    public int Overhead => problem.Rules.KeyholderPresent
        ? (problem.Rules.OpeningMinutes ?? 0) + (problem.Rules.ClosingMinutes ?? 0) : 0;

    /// <summary>Null: the person cannot be on that night, or the night has begun.</summary>
    public Sum? On(int person, int night) => on[person][night];

    public Sum? Length(int person, int night) => length[person][night];

    public Sum? Work(int person, int night) => work[person][night];

    /// <summary>A break is taken; null where no shift is long enough for one.</summary>
    public Sum? Break(int person, int night) => broken[person][night];

    public Sum? Paid(int person, int night) => length[person][night] is not { } minutes ? null
        : broken[person][night] is { } rest ? new Sum().And(minutes).And(rest, -problem.Crew[person].BreakMinutes) : minutes;

    private Sum?[][] Grid() => [.. problem.Crew.Select(_ => new Sum?[problem.Nights.Count])];

    private void Shift(Person person, int night)
    {
        var longest = rooms.Of(person.Index, night).Select(room => room.Longest).DefaultIfEmpty(0).Max();
        if (longest <= 0) return;
        var (step, p) = (problem.ShiftGrid, person.Index);
        var least = Math.Max(1, (person.MinShift + step - 1) / step);
        var here = on[p][night] = rows.Flag(night);
        var units = rows.Column(0, longest / step, night);
        length[p][night] = new Sum().And(units, step);
        rows.NotPositive(new Sum().And(units).And(here, -(longest / step)));
        rows.NotPositive(new Sum().And(here, least).And(units, -1));
        if (longest > person.BreakAfter)
        {
            var rest = broken[p][night] = rows.Flag(night);
            rows.NotPositive(new Sum().And(rest, (person.BreakAfter / step) + 1).And(units, -1));
            rows.NotPositive(new Sum().And(units).And(here, -(person.BreakAfter / step))
                .And(rest, -(longest / step - person.BreakAfter / step)));
        }
        var most = rooms.MostWork(p, night) / problem.Grid.Minutes;
        var slots = work[p][night] = new Sum().And(rows.Column(0, most, night), problem.Grid.Minutes);
        rows.NotPositive(new Sum().And(slots).And(here, -most * problem.Grid.Minutes));
        rows.NotPositive(new Sum().And(slots).And(Paid(p, night)!, -1));
    }

    private void Together(NightWindow night)
    {
        var here = problem.Crew.Where(person => on[person.Index][night.Index] is not null).Select(person => person.Index)
            .ToArray();
        if (here.Length == 0) return;
        var open = Open[night.Index] = rows.Flag(night.Index);
        var span = Span[night.Index] = rows.Column(0, night.Span.Minutes, night.Index);
        rows.NotPositive(new Sum().And(span).And(open, -night.Span.Minutes));
        foreach (var person in here)
        {
            rows.NotPositive(new Sum().And(on[person][night.Index]!).And(open, -1));
            rows.NotPositive(new Sum().And(length[person][night.Index]!).And(span, -1));
            rows.NotPositive(new Sum().And(work[person][night.Index]!).And(span, -1).And(open, Overhead));
        }
        var lengths = Sum.Of(here.Select(person => length[person][night.Index]!));
        var least = problem.Rules.MinPeople ?? 1;
        rows.NotPositive(new Sum().And(span, least).And(lengths, -1));
        rows.NotPositive(new Sum().And(open, least).And(Sum.Of(here.Select(person => on[person][night.Index]!)), -1));
        rows.NotPositive(Sum.Of(here.Select(person => work[person][night.Index]!)).And(lengths, -1).And(open, least * Overhead));
        if (problem.Rules.KeyholderPresent) Lead(night, [.. here.Where(person => problem.Crew[person].Keyholder)], open, span);
    }

    private void Lead(NightWindow night, int[] keyholders, Sum open, Sum span)
    {
        var leads = new Sum();
        foreach (var person in keyholders)
        {
            var leading = rows.Flag(night.Index);
            leads.And(leading);
            rows.NotPositive(new Sum().And(leading).And(on[person][night.Index]!, -1));
            rows.NotPositive(new Sum().And(span).And(length[person][night.Index]!, -1).And(-night.Span.Minutes)
                .And(leading, night.Span.Minutes));
            rows.NotPositive(new Sum().And(work[person][night.Index]!).And(length[person][night.Index]!, -1)
                .And(leading, Overhead));
        }
        rows.Zero(new Sum().And(open).And(leads, -1));
    }

    private void OverTheWeek(Person person)
    {
        var begun = problem.Facts?.Published.Shifts.Count(shift =>
            shift.Person == person.Index && shift.From < problem.Facts.Now) ?? 0;
        var nights = on[person.Index].OfType<Sum>().ToArray();
        if (person.MaxNights - begun < nights.Length && begun < person.MaxNights)
            rows.NotPositive(Sum.Of(nights).And(-(person.MaxNights - begun)));
        for (var night = 0; night + 1 < problem.Nights.Count; night++)
            if (on[person.Index][night] is { } one && on[person.Index][night + 1] is { } next && !CanRest(person, night))
                rows.NotPositive(new Sum().And(one).And(next).And(-1));
    }

    /// <summary>Some shift of the one night and some of the next have the rest between them.</summary>
    private bool CanRest(Person person, int night)
    {
        var least = Math.Max(person.MinShift, problem.ShiftGrid);
        return rooms.Of(person.Index, night).Min(room => room.From) + least + person.MinRest
            <= rooms.Of(person.Index, night + 1).Max(room => Math.Min(room.LatestFrom, room.To - least));
    }
}
