using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Work against roster in each night. Rows, and why every valid plan keeps them:
/// one-place, skill, on-shift: the minutes that only a set of people can do are at most the minutes they are at work;
/// equipment and zone-room the same, over the time that work lasts. Chains: stints that follow one another, and the
/// clean-down of their zone after them, lie one after another inside the night's work.
/// Packing: people work one after another within the night's work time W, so for any f with f(a)+f(b)+... at most W whenever
/// a+b+... is (a dual feasible function), f summed over a person's stints is at most W: long stints do not fit side by side.
/// </summary>
internal sealed class CapacityRows(Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work, RosterColumns roster)
{
    public void Post()
    {
        foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
        {
            var stints = work.ColumnsIn(night.Index).ToArray();
            var cleanDowns = problem.Zones.Where(zone => work.CleanDownDue[zone.Index][night.Index] is not null)
                .Select(zone => (Way: zone.CleanDown!, At: work.CleanDownDue[zone.Index][night.Index]!, Zone: zone)).ToArray();
            foreach (var set in propagation.HallSets.Sets) AddPeopleRows(night, set, stints, [.. cleanDowns.Select(one => (one.Way, one.At))]);
            foreach (var group in stints.GroupBy(one => one.Stint))
                if (group.Where(one => one.Way.People > 0).Select(one => one.At).ToArray() is { Length: > 0 } manned)
                    model.AddAtMostZero(LinearExpression.SumOf(manned).Add(roster.Attended[night.Index] ?? new LinearExpression(), -1));
            AddEquipmentRows(night, stints);
            AddZoneRows(night, stints, cleanDowns);
            foreach (var chain in Chains(night.Index)) AddChainRow(night, chain);
        }
    }

    private void AddPeopleRows(NightWindow night, ulong set, (Stint Stint, ActivityMode Way, int Minutes, LinearExpression At)[] stints,
        (ActivityMode Way, LinearExpression At)[] cleanDowns)
    {
        (int Minutes, int People, LinearExpression At)[] asked =
        [
            .. stints.Select(one => (one.Minutes, propagation.HallSets.MinPeopleFrom(set, one.Way, one.Stint.Task), one.At))
                .Where(one => one.Item2 > 0),
            .. cleanDowns.Select(one => (one.Way.Minutes, propagation.HallSets.MinPeopleFrom(set, one.Way, null), one.At))
                .Where(one => one.Item2 > 0),
        ];
        if (asked.Length == 0) return;
        var people = problem.Crew.Where(person => HallSets.Contains(set, person.Index)
            && roster.HasShift(person.Index, night.Index) is not null).ToArray();
        var given = LinearExpression.SumOf(people.Select(person => roster.WorkMinutes(person.Index, night.Index)!));
        model.AddAtMostZero(LinearExpression.SumOf(asked.Select(one => new LinearExpression().Add(one.At, (long)one.Minutes * one.People))).Add(given, -1));

        var longest = propagation.ShiftWindows.WorkSpans(night.Index).Select(span => span.Minutes).DefaultIfEmpty(0).Max();
        foreach (var round in DualFeasibleFunctions.ForLengths(longest, asked.Select(one => one.Minutes)))
        {
            var weighed = LinearExpression.SumOf(asked.Select(one => new LinearExpression().Add(one.At, round(one.Minutes) * one.People)));
            foreach (var person in people)
                weighed.Add(roster.HasShift(person.Index, night.Index)!,
                    -DualFeasibleFunctions.MaxTotal(round, longest, propagation.ShiftWindows.MaxWorkMinutes(person.Index, night.Index)));
            model.AddAtMostZero(weighed);
        }
    }

    private void AddEquipmentRows(NightWindow night, (Stint Stint, ActivityMode Way, int Minutes, LinearExpression At)[] stints)
    {
        for (var piece = 0; piece < problem.EquipmentCapacities.Count; piece++)
        {
            var used = LinearExpression.SumOf(stints.Select(one => new LinearExpression().Add(one.At,
                (long)one.Minutes * one.Way.Equipment.Where(use => use.Equipment == piece).Sum(use => use.Count))));
            if (used.Terms.Count > 0) model.AddAtMostZero(used.Add(-(long)problem.EquipmentCapacities[piece] * night.Span.Minutes));
        }
    }

    private void AddZoneRows(NightWindow night, (Stint Stint, ActivityMode Way, int Minutes, LinearExpression At)[] stints,
        (ActivityMode Way, LinearExpression At, IndexedZone Zone)[] cleanDowns)
    {
        foreach (var zone in problem.Zones.Where(zone => zone.MaxPeople < Problem.Never && roster.AttendedMinutes[night.Index] is not null))
        {
            var used = LinearExpression.SumOf(stints.Where(one => one.Stint.Task.Zone == zone.Index)
                .Select(one => new LinearExpression().Add(one.At, (long)one.Minutes * one.Way.People)));
            foreach (var one in cleanDowns.Where(one => one.Zone == zone && one.Way.People > 0)) used.Add(one.At,
                (long)zone.MaxPeople * one.Way.Minutes);
            if (used.Terms.Count > 0)
                model.AddAtMostZero(used.Add(roster.AttendedMinutes[night.Index]!, -zone.MaxPeople)
                    .Add(roster.Attended[night.Index]!, (long)zone.MaxPeople * roster.OpeningAndClosingMinutes));
        }
    }

    /// <summary>Paths through each display's order of work, so that every edge lies on one.</summary>
    private IEnumerable<int[]> Chains(int night)
    {
        var within = propagation.Windows.Precedences
            .Where(edge => problem.Stints[edge.Predecessor].Task.Display == problem.Stints[edge.Successor].Task.Display
                && propagation.Windows.WindowOf(edge.Predecessor, night) is not null && propagation.Windows.WindowOf(edge.Successor, night) is not null).ToArray();
        var (ahead, back, seen) = (within.ToLookup(edge => edge.Predecessor), within.ToLookup(edge => edge.Successor), new HashSet<StintPrecedence>());
        foreach (var edge in within.Where(seen.Add))
        {
            var path = new LinkedList<int>([edge.Predecessor, edge.Successor]);
            while (Next(ahead[path.Last!.Value]) is { } next) path.AddLast(next.Successor);
            while (Next(back[path.First!.Value]) is { } before) path.AddFirst(before.Predecessor);
            yield return [.. path];
        }

        StintPrecedence? Next(IEnumerable<StintPrecedence> edges)
        {
            foreach (var edge in edges.OrderBy(edge => seen.Contains(edge) ? 1 : 0))
            {
                seen.Add(edge);
                return edge;
            }
            return null;
        }
    }

    private void AddChainRow(NightWindow night, int[] chain)
    {
        if (roster.AttendedMinutes[night.Index] is not { } span) return;
        var (manned, all) = (new LinearExpression(), new LinearExpression());
        foreach (var stint in chain.Select(index => problem.Stints[index]))
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
                if (work.InModeAndNight(stint.Index, mode, night.Index) is { } at)
                {
                    all.Add(at, problem.MinutesOf(stint, mode));
                    if (stint.Task.Modes[mode].People > 0) manned.Add(at, problem.MinutesOf(stint, mode));
                }
        var zone = problem.Stints[chain[0]].Task.Zone;
        if (chain.All(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.IsLastTask)
            && work.CleanDownDue[zone][night.Index] is { } touched && problem.Zones[zone].CleanDown is { People: > 0 } down)
        {
            all.Add(touched, down.Minutes);
            manned.Add(touched, down.Minutes);
        }
        // Curing needs nobody in the store, so only the night itself holds it.
        model.AddAtMostZero(manned.Add(span, -1).Add(roster.Attended[night.Index]!, roster.OpeningAndClosingMinutes));
        model.AddAtMostZero(all.Add(-night.Span.Minutes));
    }
}
