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
internal sealed class CliqueRows(Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work)
{
    public void Post()
    {
        foreach (var display in problem.Displays.Where(display => display.Tasks.Count > 0))
        {
            int[] stints = [.. problem.Stints.Where(stint =>
                stint.Task.Display == display.Index && problem.Facts?.BegunWork[stint.Index] is null).Select(stint => stint.Index)];
            var reach = MinSpans(stints);
            foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index))) Post(night, stints, reach);
        }
    }

    private void Post(NightWindow night, int[] stints, long[,] minSpan)
    {
        int[] here = [.. Enumerable.Range(0, stints.Length).Where(at => propagation.Windows.WindowOf(stints[at], night.Index) is not null)];
        var posted = new HashSet<string>();
        foreach (var first in here)
        {
            var group = new List<int> { first };
            foreach (var next in here)
                if (group.TrueForAll(one => AreApart(night, stints, one, next, minSpan)
                    || AreApart(night, stints, next, one, minSpan))) group.Add(next);
            if (group.Count < 2 || !posted.Add(string.Join(' ', group.Order()))) continue;
            var sum = LinearExpression.SumOf(group.Select(at => work.InNight(stints[at], night.Index)));
            model.AddAtMostZero(new LinearExpression().Add(sum).Add(work.Placed(problem.Stints[stints[first]]), -1));
            foreach (var zone in group.Select(at => problem.Stints[stints[at]].Task).Where(task => !task.IsLastTask)
                .Select(task => task.Zone).Distinct())
                if (work.CleanDownDue[zone][night.Index] is { } touched)
                    model.AddAtMostZero(LinearExpression.SumOf(group.Select(at => stints[at])
                        .Where(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.IsLastTask)
                        .Select(stint => work.InNight(stint, night.Index))).Add(touched, -1));
        }
    }

    /// <summary>
    /// From the one's start to the other's end takes longer than from the earliest start of the one to the latest end of the
    /// other.
    /// </summary>
    private bool AreApart(NightWindow night, int[] stints, int one, int other, long[,] minSpan)
    {
        if (one == other || minSpan[one, other] < 0) return false;
        var (from, to) = (propagation.Windows.WindowOf(stints[one], night.Index)!.Value, propagation.Windows.WindowOf(stints[other], night.Index)!.Value);
        return from.EarliestStart + minSpan[one, other] > to.LatestEnd;
    }

    /// <summary>
    /// Least minutes from the start of one stint to the end of another that comes after it; -1 where it does not.
    /// </summary>
    private long[,] MinSpans(int[] stints)
    {
        var place = stints.Select((stint, at) => (stint, at)).ToDictionary(pair => pair.stint, pair => pair.at);
        var reach = new long[stints.Length, stints.Length];
        for (var from = 0; from < stints.Length; from++)
            for (var to = 0; to < stints.Length; to++) reach[from, to] = from == to ? MinMinutes(stints[from]) : -1;
        var edges = propagation.Windows.Precedences.Where(edge => place.ContainsKey(edge.Predecessor) && place.ContainsKey(edge.Successor)).ToArray();
        for (var (round, changed) = (0, true); changed && round < stints.Length; round++)
        {
            changed = false;
            foreach (var edge in edges)
                for (var from = 0; from < stints.Length; from++)
                {
                    var (before, after) = (reach[from, place[edge.Predecessor]], place[edge.Successor]);
                    if (before < 0 || before + edge.Lag + MinMinutes(edge.Successor) <= reach[from, after]) continue;
                    (reach[from, after], changed) = (before + edge.Lag + MinMinutes(edge.Successor), true);
                }
        }
        return reach;
    }

    private int MinMinutes(int stint) => propagation.StartDomains.AllowedModes(problem.Stints[stint])
        .Min(mode => problem.MinutesOf(problem.Stints[stint], mode));
}
