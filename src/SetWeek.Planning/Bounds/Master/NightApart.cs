using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Stints of one display that cannot share a night: what has to lie between the start of the one and the end of the other,
/// drying and curing included, takes longer than the night is worked. Of stints that are pairwise apart a night holds one at
/// most, and only if their zone is worked in that night, so their columns sum to no more than the zone's clean-down.
/// </summary>
internal sealed class NightApart(Problem problem, Certificates known, RowModel rows, NightWork work)
{
    public void Post()
    {
        foreach (var display in problem.Displays.Where(display => display.Tasks.Count > 0))
        {
            int[] stints = [.. problem.Stints.Where(stint =>
                stint.Task.Display == display.Index && problem.Facts?.Begun[stint.Index] is null).Select(stint => stint.Index)];
            var reach = Reach(stints);
            foreach (var night in problem.Nights.Where(night => !known.Crew.Begun(night.Index))) Post(night, stints, reach);
        }
    }

    private void Post(NightWindow night, int[] stints, long[,] reach)
    {
        int[] here = [.. Enumerable.Range(0, stints.Length).Where(at => known.Windows.Of(stints[at], night.Index) is not null)];
        var posted = new HashSet<string>();
        foreach (var first in here)
        {
            var group = new List<int> { first };
            foreach (var next in here)
                if (group.TrueForAll(one => Apart(night, stints, one, next, reach)
                    || Apart(night, stints, next, one, reach))) group.Add(next);
            if (group.Count < 2 || !posted.Add(string.Join(' ', group.Order()))) continue;
            var sum = Sum.Of(group.Select(at => work.In(stints[at], night.Index)));
            rows.NotPositive(new Sum().And(sum).And(work.Placed(problem.Stints[stints[first]]), -1));
            foreach (var zone in group.Select(at => problem.Stints[stints[at]].Task).Where(task => !task.Last)
                .Select(task => task.Zone).Distinct())
                if (work.Touched[zone][night.Index] is { } touched)
                    rows.NotPositive(Sum.Of(group.Select(at => stints[at])
                        .Where(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.Last)
                        .Select(stint => work.In(stint, night.Index))).And(touched, -1));
        }
    }

    /// <summary>
    /// From the one's start to the other's end takes longer than from the earliest start of the one to the latest end of the
    /// other.
    /// </summary>
    private bool Apart(NightWindow night, int[] stints, int one, int other, long[,] reach)
    {
        if (one == other || reach[one, other] < 0) return false;
        var (from, to) = (known.Windows.Of(stints[one], night.Index)!.Value, known.Windows.Of(stints[other], night.Index)!.Value);
        return from.EarliestStart + reach[one, other] > to.LatestEnd;
    }

    /// <summary>
    /// Least minutes from the start of one stint to the end of another that comes after it; -1 where it does not.
    /// </summary>
    private long[,] Reach(int[] stints)
    {
        var place = stints.Select((stint, at) => (stint, at)).ToDictionary(pair => pair.stint, pair => pair.at);
        var reach = new long[stints.Length, stints.Length];
        for (var from = 0; from < stints.Length; from++)
            for (var to = 0; to < stints.Length; to++) reach[from, to] = from == to ? Least(stints[from]) : -1;
        var edges = known.Windows.Edges.Where(edge => place.ContainsKey(edge.From) && place.ContainsKey(edge.To)).ToArray();
        for (var (round, changed) = (0, true); changed && round < stints.Length; round++)
        {
            changed = false;
            foreach (var edge in edges)
                for (var from = 0; from < stints.Length; from++)
                {
                    var (before, after) = (reach[from, place[edge.From]], place[edge.To]);
                    if (before < 0 || before + edge.Lag + Least(edge.To) <= reach[from, after]) continue;
                    (reach[from, after], changed) = (before + edge.Lag + Least(edge.To), true);
                }
        }
        return reach;
    }

    private int Least(int stint) => known.Starts.Modes(problem.Stints[stint])
        .Min(mode => problem.MinutesOf(problem.Stints[stint], mode));
}
