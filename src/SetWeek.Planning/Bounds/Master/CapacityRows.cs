using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Rows that bound the work of each night by its roster and other capacities. Why every valid plan meets them:
/// one-place, skill, on-shift: the minutes that only a Hall set can work are at most the minutes that its people work.
/// equipment, zone-room: the demand on a resource is at most its capacity over the time in which work is possible.
/// Chains: stints in precedence order, and the clean-down after them, lie one after another within the night's work.
/// Packing: one person's stints lie one after another within the night's work time W. So their values under a dual feasible
/// function for W sum to at most W, which captures that long stints do not fit into one shift together.
/// </summary>
internal sealed class CapacityRows(
    Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    public void Post()
    {
        foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
        {
            var columns = work.ColumnsIn(night.Index).ToArray();
            var cleanDowns = problem.Zones.Where(zone => work.CleanDownDue[zone.Index][night.Index] is not null)
                .Select(zone => (Mode: zone.CleanDown!, IsDue: work.CleanDownDue[zone.Index][night.Index]!, Zone: zone))
                .ToArray();
            foreach (var set in propagation.HallSets.Sets)
                AddPeopleRows(night, set, columns, [.. cleanDowns.Select(cleanDown => (cleanDown.Mode, cleanDown.IsDue))]);
            foreach (var stintColumns in columns.GroupBy(column => column.Stint))
                if (stintColumns.Where(column => column.Mode.People > 0).Select(column => column.IsDone).ToArray()
                    is { Length: > 0 } staffed)
                    model.AddAtMostZero(LinearExpression.SumOf(staffed)
                        .Add(roster.Attended[night.Index] ?? new LinearExpression(), -1));
            AddEquipmentRows(night, columns);
            AddZoneRows(night, columns, cleanDowns);
            foreach (var chain in Chains(night.Index)) AddChainRow(night, chain);
        }
    }

    private void AddPeopleRows(
        NightWindow night, ulong set, WorkColumn[] columns, (ActivityMode Mode, LinearExpression IsDue)[] cleanDowns)
    {
        (int Minutes, int People, LinearExpression IsDone)[] demands =
        [
            .. columns.Select(column => (column.Minutes,
                    People: propagation.HallSets.MinPeopleFrom(set, column.Mode, column.Stint.Task), column.IsDone))
                .Where(demand => demand.People > 0),
            .. cleanDowns.Select(cleanDown => (cleanDown.Mode.Minutes,
                    People: propagation.HallSets.MinPeopleFrom(set, cleanDown.Mode, null), cleanDown.IsDue))
                .Where(demand => demand.People > 0),
        ];
        if (demands.Length == 0) return;
        var people = problem.Crew.Where(person => HallSets.Contains(set, person.Index)
            && roster.HasShift(person.Index, night.Index) is not null).ToArray();
        var capacity = LinearExpression.SumOf(people.Select(person => roster.WorkMinutes(person.Index, night.Index)!));
        model.AddAtMostZero(LinearExpression.SumOf(demands.Select(demand =>
            new LinearExpression().Add(demand.IsDone, (long)demand.Minutes * demand.People))).Add(capacity, -1));

        var longest = propagation.ShiftWindows.LongestWorkSpan(night.Index);
        foreach (var function in DualFeasibleFunctions.ForLengths(longest, demands.Select(demand => demand.Minutes)))
        {
            var row = LinearExpression.SumOf(demands.Select(demand =>
                new LinearExpression().Add(demand.IsDone, function(demand.Minutes) * demand.People)));
            foreach (var person in people)
                row.Add(roster.HasShift(person.Index, night.Index)!, -DualFeasibleFunctions.MaxTotal(
                    function, longest, propagation.ShiftWindows.MaxWorkMinutes(person.Index, night.Index)));
            model.AddAtMostZero(row);
        }
    }

    private void AddEquipmentRows(NightWindow night, WorkColumn[] columns)
    {
        for (var equipment = 0; equipment < problem.EquipmentCapacities.Count; equipment++)
        {
            var used = LinearExpression.SumOf(columns.Select(column => new LinearExpression().Add(column.IsDone,
                (long)column.Minutes * column.Mode.Equipment.Where(use => use.Equipment == equipment).Sum(use => use.Count))));
            if (used.Terms.Count > 0)
                model.AddAtMostZero(used.Add(-(long)problem.EquipmentCapacities[equipment] * night.Span.Minutes));
        }
    }

    private void AddZoneRows(
        NightWindow night, WorkColumn[] columns, (ActivityMode Mode, LinearExpression IsDue, IndexedZone Zone)[] cleanDowns)
    {
        foreach (var zone in problem.Zones
            .Where(zone => zone.MaxPeople < Problem.Never && roster.AttendedMinutes[night.Index] is not null))
        {
            var used = LinearExpression.SumOf(columns.Where(column => column.Stint.Task.Zone == zone.Index)
                .Select(column => new LinearExpression().Add(column.IsDone, (long)column.Minutes * column.Mode.People)));
            // A clean-down starts after all other work in its zone, so it takes the zone's whole capacity.
            foreach (var cleanDown in cleanDowns.Where(cleanDown => cleanDown.Zone == zone && cleanDown.Mode.People > 0))
                used.Add(cleanDown.IsDue, (long)zone.MaxPeople * cleanDown.Mode.Minutes);
            if (used.Terms.Count > 0)
                model.AddAtMostZero(used.Add(roster.AttendedMinutes[night.Index]!, -zone.MaxPeople)
                    .Add(roster.Attended[night.Index]!, (long)zone.MaxPeople * roster.OpeningAndClosingMinutes));
        }
    }

    /// <summary>
    /// Chains of stints in precedence order, each within one display, that together contain every precedence of the night.
    /// </summary>
    private IEnumerable<int[]> Chains(int night)
    {
        var precedences = propagation.Windows.Precedences
            .Where(precedence =>
                problem.Stints[precedence.Predecessor].Task.Display == problem.Stints[precedence.Successor].Task.Display
                && propagation.Windows.WindowOf(precedence.Predecessor, night) is not null
                && propagation.Windows.WindowOf(precedence.Successor, night) is not null).ToArray();
        var outgoing = precedences.ToLookup(precedence => precedence.Predecessor);
        var incoming = precedences.ToLookup(precedence => precedence.Successor);
        var covered = new HashSet<StintPrecedence>();
        foreach (var precedence in precedences.Where(covered.Add))
        {
            var chain = new LinkedList<int>([precedence.Predecessor, precedence.Successor]);
            while (Choose(outgoing[chain.Last!.Value]) is { } next) chain.AddLast(next.Successor);
            while (Choose(incoming[chain.First!.Value]) is { } previous) chain.AddFirst(previous.Predecessor);
            yield return [.. chain];
        }

        // Prefers a precedence that no chain contains yet.
        StintPrecedence? Choose(IEnumerable<StintPrecedence> candidates)
        {
            foreach (var candidate in candidates.OrderBy(candidate => covered.Contains(candidate) ? 1 : 0))
            {
                covered.Add(candidate);
                return candidate;
            }
            return null;
        }
    }

    private void AddChainRow(NightWindow night, int[] chain)
    {
        if (roster.AttendedMinutes[night.Index] is not { } attendedMinutes) return;
        var (staffed, all) = (new LinearExpression(), new LinearExpression());
        foreach (var stint in chain.Select(index => problem.Stints[index]))
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
                if (work.InModeAndNight(stint.Index, mode, night.Index) is { } isDone)
                {
                    all.Add(isDone, problem.MinutesOf(stint, mode));
                    if (stint.Task.Modes[mode].People > 0) staffed.Add(isDone, problem.MinutesOf(stint, mode));
                }
        var zone = problem.Stints[chain[0]].Task.Zone;
        if (chain.All(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.IsLastTask)
            && work.CleanDownDue[zone][night.Index] is { } isDue && problem.Zones[zone].CleanDown is { People: > 0 } cleanDown)
        {
            all.Add(isDue, cleanDown.Minutes);
            staffed.Add(isDue, cleanDown.Minutes);
        }
        // Work without people needs nobody in the store, so only the length of the night bounds it.
        model.AddAtMostZero(staffed.Add(attendedMinutes, -1)
            .Add(roster.Attended[night.Index]!, roster.OpeningAndClosingMinutes));
        model.AddAtMostZero(all.Add(-night.Span.Minutes));
    }
}
