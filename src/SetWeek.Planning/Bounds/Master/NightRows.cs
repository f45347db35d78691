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
internal sealed class NightRows(Problem problem, Certificates known, RowModel rows, NightWork work, NightCrew crew)
{
    public void Post()
    {
        foreach (var night in problem.Nights.Where(night => !known.Crew.Begun(night.Index)))
        {
            var stints = work.Of(night.Index).ToArray();
            var cleanDowns = problem.Zones.Where(zone => work.Touched[zone.Index][night.Index] is not null)
                .Select(zone => (Way: zone.CleanDown!, At: work.Touched[zone.Index][night.Index]!, Zone: zone)).ToArray();
            foreach (var set in known.Sets.Sets) Hands(night, set, stints, [.. cleanDowns.Select(one => (one.Way, one.At))]);
            foreach (var group in stints.GroupBy(one => one.Stint))
                if (group.Where(one => one.Way.People > 0).Select(one => one.At).ToArray() is { Length: > 0 } manned)
                    rows.NotPositive(Sum.Of(manned).And(crew.Open[night.Index] ?? new Sum(), -1));
            Pieces(night, stints);
            Rooms(night, stints, cleanDowns);
            foreach (var chain in Chains(night.Index)) InARow(night, chain);
        }
    }

    private void Hands(NightWindow night, ulong set, (Stint Stint, Way Way, int Minutes, Sum At)[] stints,
        (Way Way, Sum At)[] cleanDowns)
    {
        (int Minutes, int People, Sum At)[] asked =
        [
            .. stints.Select(one => (one.Minutes, known.Sets.Takes(set, one.Way, one.Stint.Task), one.At))
                .Where(one => one.Item2 > 0),
            .. cleanDowns.Select(one => (one.Way.Minutes, known.Sets.Takes(set, one.Way, null), one.At))
                .Where(one => one.Item2 > 0),
        ];
        if (asked.Length == 0) return;
        var people = problem.Crew.Where(person => CrewSets.Holds(set, person.Index)
            && crew.On(person.Index, night.Index) is not null).ToArray();
        var given = Sum.Of(people.Select(person => crew.Work(person.Index, night.Index)!));
        rows.NotPositive(Sum.Of(asked.Select(one => new Sum().And(one.At, (long)one.Minutes * one.People))).And(given, -1));

        var longest = known.Crew.WorkSpans(night.Index).Select(span => span.Minutes).DefaultIfEmpty(0).Max();
        foreach (var round in DualFeasible.Of(longest, asked.Select(one => one.Minutes)))
        {
            var weighed = Sum.Of(asked.Select(one => new Sum().And(one.At, round(one.Minutes) * one.People)));
            foreach (var person in people)
                weighed.And(crew.On(person.Index, night.Index)!,
                    -DualFeasible.Most(round, longest, known.Crew.MostWork(person.Index, night.Index)));
            rows.NotPositive(weighed);
        }
    }

    private void Pieces(NightWindow night, (Stint Stint, Way Way, int Minutes, Sum At)[] stints)
    {
        for (var piece = 0; piece < problem.EquipmentCounts.Count; piece++)
        {
            var used = Sum.Of(stints.Select(one => new Sum().And(one.At,
                (long)one.Minutes * one.Way.Equipment.Where(use => use.Equipment == piece).Sum(use => use.Count))));
            if (used.Terms.Count > 0) rows.NotPositive(used.And(-(long)problem.EquipmentCounts[piece] * night.Span.Minutes));
        }
    }

    private void Rooms(NightWindow night, (Stint Stint, Way Way, int Minutes, Sum At)[] stints,
        (Way Way, Sum At, ZoneRoom Zone)[] cleanDowns)
    {
        foreach (var zone in problem.Zones.Where(zone => zone.MaxPeople < Problem.Never && crew.Span[night.Index] is not null))
        {
            var used = Sum.Of(stints.Where(one => one.Stint.Task.Zone == zone.Index)
                .Select(one => new Sum().And(one.At, (long)one.Minutes * one.Way.People)));
            foreach (var one in cleanDowns.Where(one => one.Zone == zone && one.Way.People > 0)) used.And(one.At,
                (long)zone.MaxPeople * one.Way.Minutes);
            if (used.Terms.Count > 0)
                rows.NotPositive(used.And(crew.Span[night.Index]!, -zone.MaxPeople)
                    .And(crew.Open[night.Index]!, (long)zone.MaxPeople * crew.Overhead));
        }
    }

    /// <summary>Paths through each display's order of work, so that every edge lies on one.</summary>
    private IEnumerable<int[]> Chains(int night)
    {
        var within = known.Windows.Edges
            .Where(edge => problem.Stints[edge.From].Task.Display == problem.Stints[edge.To].Task.Display
                && known.Windows.Of(edge.From, night) is not null && known.Windows.Of(edge.To, night) is not null).ToArray();
        var (ahead, back, seen) = (within.ToLookup(edge => edge.From), within.ToLookup(edge => edge.To), new HashSet<Edge>());
        foreach (var edge in within.Where(seen.Add))
        {
            var path = new LinkedList<int>([edge.From, edge.To]);
            while (Next(ahead[path.Last!.Value]) is { } next) path.AddLast(next.To);
            while (Next(back[path.First!.Value]) is { } before) path.AddFirst(before.From);
            yield return [.. path];
        }

        Edge? Next(IEnumerable<Edge> edges)
        {
            foreach (var edge in edges.OrderBy(edge => seen.Contains(edge) ? 1 : 0))
            {
                seen.Add(edge);
                return edge;
            }
            return null;
        }
    }

    private void InARow(NightWindow night, int[] chain)
    {
        if (crew.Span[night.Index] is not { } span) return;
        var (manned, all) = (new Sum(), new Sum());
        foreach (var stint in chain.Select(index => problem.Stints[index]))
            for (var mode = 0; mode < stint.Task.Ways.Count; mode++)
                if (work.At(stint.Index, mode, night.Index) is { } at)
                {
                    all.And(at, problem.MinutesOf(stint, mode));
                    if (stint.Task.Ways[mode].People > 0) manned.And(at, problem.MinutesOf(stint, mode));
                }
        var zone = problem.Stints[chain[0]].Task.Zone;
        if (chain.All(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.Last)
            && work.Touched[zone][night.Index] is { } touched && problem.Zones[zone].CleanDown is { People: > 0 } down)
        {
            all.And(touched, down.Minutes);
            manned.And(touched, down.Minutes);
        }
        // Curing needs nobody in the store, so only the night itself holds it.
        rows.NotPositive(manned.And(span, -1).And(crew.Open[night.Index]!, crew.Overhead));
        rows.NotPositive(all.And(-night.Span.Minutes));
    }
}
