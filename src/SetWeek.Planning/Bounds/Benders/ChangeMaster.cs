using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// The few choices that a count of changes is made of: the night of every stint, and by night who is added, dropped or given
/// other hours. Rows, and why every valid plan keeps them: those of <see cref="NightWork"/>; maxNights; a published shift that
/// has no room any more is dropped or moved; one-place, skill and on-shift (the minutes that only a set of people can do are
/// at most those that they can be at work: in their published shift as it is, or in any that they might have instead).
/// What a night costs more than all that is said by cuts.
/// </summary>
internal sealed class ChangeMaster
{
    private readonly Problem problem;
    private readonly Certificates known;
    private readonly Facts facts;
    private readonly Sum[] shifts;
    private readonly Sum?[,] added, dropped, moved;
    private readonly Dictionary<(int Person, int Night), Shift> before;

    public ChangeMaster(Problem problem, Certificates known)
    {
        (this.problem, this.known, facts) = (problem, known, problem.Facts!);
        Work = new NightWork(problem, known, Rows);
        (added, dropped, moved) = (Grid(), Grid(), Grid());
        before = facts.Published.Shifts.DistinctBy(shift => (shift.Person, shift.Night))
            .ToDictionary(shift => (shift.Person, shift.Night));
        shifts = [.. problem.Nights.Select(night =>
            night.Closes <= facts.Now ? new Sum() : Rows.Column(0, 6L * problem.Crew.Count))];
        foreach (var night in problem.Nights.Where(night => !known.Crew.Begun(night.Index)))
        {
            Roster(night.Index);
            foreach (var set in known.Sets.Sets) Hands(set, night.Index);
        }
        foreach (var person in problem.Crew) Nights(person);
        Changes = Sum.Of(shifts);
        var published = facts.Published.ByStint(problem);
        foreach (var stint in problem.Stints)
            if (facts.Begun[stint.Index] is null && published[stint.Index] is { } work)
                Changes.And(Work.Placed(stint)).And(Work.In(stint.Index, work.Night), -1);
    }

    public RowModel Rows { get; } = new();
    public NightWork Work { get; }

    /// <summary>The least of it is a bound.</summary>
    public Sum Changes { get; }

    public Sum ShiftsOf(int night) => shifts[night];

    /// <summary>Has as many nights as may be, so that one more means one less elsewhere.</summary>
    public bool Full(Person person) => person.MaxNights <= before.Keys.Count(key => key.Person == person.Index);

    public void LeaveOutAtMost(long value) => Rows.NotPositive(GoalSums.LeftOut(problem, Work).And(-value));

    /// <summary>What is asked of a night comes to at least so much; one that comes being elsewhere, to another least.</summary>
    public void Cut(NightQuestion asked, long least, long otherwise)
    {
        var row = new Sum().And(least).And(shifts[asked.Night], -1);
        foreach (var person in problem.Crew)
            if (added[person.Index, asked.Night] is { } one) row.And(one, -asked.Extra[person.Index]);
        foreach (var stint in asked.Stays) row.And(-asked.Price).And(Work.In(stint, asked.Night), asked.Price);
        foreach (var stint in asked.Comes) row.And(otherwise - least).And(Work.In(stint, asked.Night), least - otherwise);
        Rows.NotPositive(row);
    }

    /// <summary>Not all of some stints are in a night.</summary>
    public void Never(int night, IReadOnlyList<int> stints) =>
        Rows.NotPositive(Sum.Of(stints.Select(stint => Work.In(stint, night))).And(1 - stints.Count));

    private Sum?[,] Grid() => new Sum?[problem.Crew.Count, problem.Nights.Count];

    /// <summary>
    /// Shifts come to at least what is added, dropped and moved; three times that where notice is sure to be short.
    /// </summary>
    private void Roster(int night)
    {
        var (least, notice) = (new Sum().And(shifts[night], -1), facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never));
        foreach (var person in problem.Crew)
        {
            var rooms = known.Crew.Of(person.Index, night).ToArray();
            if (!before.TryGetValue((person.Index, night), out var shift))
            {
                if (rooms.Length > 0)
                    least.And(added[person.Index, night] = Rows.Flag(), rooms.All(room => room.LatestFrom < notice) ? 6 : 2);
                continue;
            }
            var gone = dropped[person.Index, night] = rooms.Length == 0 ? new Sum().And(1) : Rows.Flag();
            var other = moved[person.Index, night] = rooms.Length == 0 ? new Sum() : Rows.Flag();
            least.And(gone, shift.From < notice ? 6 : 2).And(other, shift.From < notice ? 3 : 1);
            if (!rooms.Any(room => room.From <= shift.From && shift.From <= room.LatestFrom && shift.To <= room.To
                && shift.Span.Minutes <= room.MaxMinutes)) Rows.NotPositive(new Sum().And(1).And(gone, -1).And(other, -1));
        }
        Rows.NotPositive(least);
    }

    private void Hands(ulong set, int night)
    {
        var row = new Sum();
        foreach (var one in Work.Of(night)) row.And(one.At, (long)one.Minutes * known.Sets.Takes(set, one.Way, one.Stint.Task));
        foreach (var zone in problem.Zones)
            if (Work.Touched[zone.Index][night] is { } touched)
                row.And(touched, (long)zone.CleanDown!.Minutes * known.Sets.Takes(set, zone.CleanDown, null));
        if (row.Terms.Count == 0) return;
        foreach (var person in problem.Crew.Where(person => CrewSets.Holds(set, person.Index)))
        {
            var most = known.Crew.MostWork(person.Index, night);
            if (added[person.Index, night] is { } more) row.And(more, -most);
            if (!before.TryGetValue((person.Index, night), out var shift)) continue;
            var own = AtWork(shift);
            row.And(-own).And(dropped[person.Index, night]!, own).And(moved[person.Index, night]!, -Math.Max(0, most - own));
        }
        Rows.NotPositive(row);
    }

    /// <summary>Minutes that can be worked in a shift as it is: its break off, or opening and closing.</summary>
    private int AtWork(Shift shift) => Math.Min(shift.PaidMinutes, known.Crew.WorkSpans(shift.Night)
        .Sum(span => Math.Max(0, Math.Min(span.To, shift.To) - Math.Max(span.From, shift.From))));

    /// <summary>Nights begun and over are counted as they are; who has more of them than may be has no other.</summary>
    private void Nights(Person person)
    {
        if (person.MaxNights >= problem.Nights.Count) return;
        var own = before.Values.Where(shift => shift.Person == person.Index).ToArray();
        var on = new Sum().And(own.Length);
        for (var night = 0; night < problem.Nights.Count; night++)
            on.And(added[person.Index, night] ?? new Sum()).And(dropped[person.Index, night] ?? new Sum(), -1);
        Rows.NotPositive(on.And(-Math.Max(own.Count(shift => shift.From < facts.Now), person.MaxNights)));
    }
}
