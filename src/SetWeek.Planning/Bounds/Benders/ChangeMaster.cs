using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// The few choices that a count of changes is made of: the night of every stint, and by night who is added, dropped or given
/// other hours. Rows, and why every valid plan keeps them: those of <see cref="WorkColumns"/>; maxNights; a published shift that
/// has no room any more is dropped or moved; one-place, skill and on-shift (the minutes that only a set of people can do are
/// at most those that they can be at work: in their published shift as it is, or in any that they might have instead).
/// What a night costs more than all that is said by cuts.
/// </summary>
internal sealed class ChangeMaster
{
    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly ReplanFacts facts;
    private readonly LinearExpression[] shiftChanges;
    private readonly LinearExpression?[,] added, dropped, moved;
    private readonly Dictionary<(int Person, int Night), ScheduledShift> publishedShifts;

    public ChangeMaster(Problem problem, RootPropagation propagation)
    {
        (this.problem, this.propagation, facts) = (problem, propagation, problem.Facts!);
        Work = new WorkColumns(problem, propagation, Model);
        (added, dropped, moved) = (ByPersonAndNight(), ByPersonAndNight(), ByPersonAndNight());
        publishedShifts = facts.Published.Shifts.DistinctBy(shift => (shift.Person, shift.Night))
            .ToDictionary(shift => (shift.Person, shift.Night));
        shiftChanges = [.. problem.Nights.Select(night =>
            night.Closes <= facts.Now ? new LinearExpression() : Model.NewColumn(0, 6L * problem.Crew.Count))];
        foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
        {
            AddShiftChangeRows(night.Index);
            foreach (var set in propagation.HallSets.Sets) AddCapacityRow(set, night.Index);
        }
        foreach (var person in problem.Crew) AddNightLimitRow(person);
        Changes = LinearExpression.SumOf(shiftChanges);
        var published = facts.Published.WorkByStint(problem);
        foreach (var stint in problem.Stints)
            if (facts.BegunWork[stint.Index] is null && published[stint.Index] is { } work)
                Changes.Add(Work.Placed(stint)).Add(Work.InNight(stint.Index, work.Night), -1);
    }

    public LinearModel Model { get; } = new();
    public WorkColumns Work { get; }

    /// <summary>The least of it is a bound.</summary>
    public LinearExpression Changes { get; }

    public LinearExpression ShiftChangesOf(int night) => shiftChanges[night];

    /// <summary>Has as many nights as may be, so that one more means one less elsewhere.</summary>
    public bool IsAtNightLimit(Person person) => person.MaxNights <= publishedShifts.Keys.Count(key => key.Person == person.Index);

    public void CapLeftOut(long value) => Model.AddAtMostZero(NightMasterGoals.LeftOut(problem, Work).Add(-value));

    /// <summary>What is asked of a night comes to at least so much; one that comes being elsewhere, to another least.</summary>
    public void AddCut(ChangeSubproblemQuery query, long minimum, long minimumIfStintAbsent)
    {
        var row = new LinearExpression().Add(minimum).Add(shiftChanges[query.Night], -1);
        foreach (var person in problem.Crew)
            if (added[person.Index, query.Night] is { } one) row.Add(one, -query.AdditionCosts[person.Index]);
        foreach (var stint in query.OptionalStints) row.Add(-query.RemovalCost).Add(Work.InNight(stint, query.Night), query.RemovalCost);
        foreach (var stint in query.RequiredStints) row.Add(minimumIfStintAbsent - minimum).Add(Work.InNight(stint, query.Night), minimum - minimumIfStintAbsent);
        Model.AddAtMostZero(row);
    }

    /// <summary>Not all of some stints are in a night.</summary>
    public void AddNoGood(int night, IReadOnlyList<int> stints) =>
        Model.AddAtMostZero(LinearExpression.SumOf(stints.Select(stint => Work.InNight(stint, night))).Add(1 - stints.Count));

    private LinearExpression?[,] ByPersonAndNight() => new LinearExpression?[problem.Crew.Count, problem.Nights.Count];

    /// <summary>
    /// Shifts come to at least what is added, dropped and moved; three times that where notice is sure to be short.
    /// </summary>
    private void AddShiftChangeRows(int night)
    {
        var (least, notice) = (new LinearExpression().Add(shiftChanges[night], -1), facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never));
        foreach (var person in problem.Crew)
        {
            var rooms = propagation.ShiftWindows.WindowsOf(person.Index, night).ToArray();
            if (!publishedShifts.TryGetValue((person.Index, night), out var shift))
            {
                if (rooms.Length > 0)
                    least.Add(added[person.Index, night] = Model.NewBinary(), rooms.All(room => room.LatestStart < notice) ? 6 : 2);
                continue;
            }
            var gone = dropped[person.Index, night] = rooms.Length == 0 ? new LinearExpression().Add(1) : Model.NewBinary();
            var other = moved[person.Index, night] = rooms.Length == 0 ? new LinearExpression() : Model.NewBinary();
            least.Add(gone, shift.From < notice ? 6 : 2).Add(other, shift.From < notice ? 3 : 1);
            if (!rooms.Any(room => room.EarliestStart <= shift.From && shift.From <= room.LatestStart && shift.To <= room.LatestEnd
                && shift.Span.Minutes <= room.MaxMinutes)) Model.AddAtMostZero(new LinearExpression().Add(1).Add(gone, -1).Add(other, -1));
        }
        Model.AddAtMostZero(least);
    }

    private void AddCapacityRow(ulong set, int night)
    {
        var row = new LinearExpression();
        foreach (var one in Work.ColumnsIn(night)) row.Add(one.At, (long)one.Minutes * propagation.HallSets.MinPeopleFrom(set, one.Way, one.Stint.Task));
        foreach (var zone in problem.Zones)
            if (Work.CleanDownDue[zone.Index][night] is { } touched)
                row.Add(touched, (long)zone.CleanDown!.Minutes * propagation.HallSets.MinPeopleFrom(set, zone.CleanDown, null));
        if (row.Terms.Count == 0) return;
        foreach (var person in problem.Crew.Where(person => HallSets.Contains(set, person.Index)))
        {
            var most = propagation.ShiftWindows.MaxWorkMinutes(person.Index, night);
            if (added[person.Index, night] is { } more) row.Add(more, -most);
            if (!publishedShifts.TryGetValue((person.Index, night), out var shift)) continue;
            var own = WorkableMinutes(shift);
            row.Add(-own).Add(dropped[person.Index, night]!, own).Add(moved[person.Index, night]!, -Math.Max(0, most - own));
        }
        Model.AddAtMostZero(row);
    }

    /// <summary>Minutes that can be worked in a shift as it is: its break off, or opening and closing.</summary>
    private int WorkableMinutes(ScheduledShift shift) => Math.Min(shift.PaidMinutes, propagation.ShiftWindows.WorkSpans(shift.Night)
        .Sum(span => Math.Max(0, Math.Min(span.To, shift.To) - Math.Max(span.From, shift.From))));

    /// <summary>Nights begun and over are counted as they are; who has more of them than may be has no other.</summary>
    private void AddNightLimitRow(Person person)
    {
        if (person.MaxNights >= problem.Nights.Count) return;
        var own = publishedShifts.Values.Where(shift => shift.Person == person.Index).ToArray();
        var on = new LinearExpression().Add(own.Length);
        for (var night = 0; night < problem.Nights.Count; night++)
            on.Add(added[person.Index, night] ?? new LinearExpression()).Add(dropped[person.Index, night] ?? new LinearExpression(), -1);
        Model.AddAtMostZero(on.Add(-Math.Max(own.Count(shift => shift.From < facts.Now), person.MaxNights)));
    }
}
