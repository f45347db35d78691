using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Clique inequalities. Two stints of one display conflict in a night where the chain of work and lags between the start of the
/// first and the end of the second is longer than the time that their windows leave. Of pairwise conflicting stints a
/// night holds at most one. It also requires the clean-down of its zone, so the columns of a clique's stints in one zone sum to
/// at most the clean-down's column.
/// </summary>
internal sealed class CliqueRows(Problem problem, RootPropagation propagation, LinearModel model, WorkColumns work)
{
    public void Post()
    {
        foreach (var display in problem.Displays.Where(display => display.Tasks.Count > 0))
        {
            int[] stints = [.. problem.Stints
                .Where(stint => stint.Task.Display == display.Index && problem.Facts?.BegunWork[stint.Index] is null)
                .Select(stint => stint.Index)];
            var minSpan = MinSpans(stints);
            foreach (var night in problem.Nights.Where(night => !propagation.ShiftWindows.HasBegun(night.Index)))
                Post(night, stints, minSpan);
        }
    }

    /// <summary>
    /// Builds cliques greedily, one from each stint of the night. A clique holds positions in <paramref name="stints"/>.
    /// </summary>
    private void Post(NightWindow night, int[] stints, long[,] minSpan)
    {
        int[] candidates = [.. Enumerable.Range(0, stints.Length)
            .Where(position => propagation.Windows.WindowOf(stints[position], night.Index) is not null)];
        var posted = new HashSet<string>();
        foreach (var first in candidates)
        {
            var clique = new List<int> { first };
            foreach (var candidate in candidates)
                if (clique.TrueForAll(member => AreApart(night, stints, member, candidate, minSpan)
                    || AreApart(night, stints, candidate, member, minSpan))) clique.Add(candidate);
            if (clique.Count < 2 || !posted.Add(string.Join(' ', clique.Order()))) continue;
            var sum = LinearExpression.SumOf(clique.Select(member => work.InNight(stints[member], night.Index)));
            model.AddAtMostZero(new LinearExpression().Add(sum).Add(work.Placed(problem.Stints[stints[first]]), -1));
            foreach (var zone in clique.Select(member => problem.Stints[stints[member]].Task).Where(task => !task.IsLastTask)
                .Select(task => task.Zone).Distinct())
                if (work.CleanDownDue[zone][night.Index] is { } cleanDownDue)
                    model.AddAtMostZero(LinearExpression.SumOf(clique.Select(member => stints[member])
                        .Where(stint => problem.Stints[stint].Task.Zone == zone && !problem.Stints[stint].Task.IsLastTask)
                        .Select(stint => work.InNight(stint, night.Index))).Add(cleanDownDue, -1));
        }
    }

    /// <summary>
    /// The second stint comes after the first, and their minimum span does not fit between the first one's earliest start and
    /// the second one's latest end.
    /// </summary>
    private bool AreApart(NightWindow night, int[] stints, int first, int second, long[,] minSpan)
    {
        if (first == second || minSpan[first, second] < 0) return false;
        var from = propagation.Windows.WindowOf(stints[first], night.Index)!.Value;
        var to = propagation.Windows.WindowOf(stints[second], night.Index)!.Value;
        return from.EarliestStart + minSpan[first, second] > to.LatestEnd;
    }

    /// <summary>
    /// Least minutes from the start of one stint to the end of a later one (longest path over precedences); -1 where no path
    /// leads from one to the other. Indexed by position in <paramref name="stints"/>.
    /// </summary>
    private long[,] MinSpans(int[] stints)
    {
        var positions = stints.Select((stint, position) => (stint, position))
            .ToDictionary(pair => pair.stint, pair => pair.position);
        var spans = new long[stints.Length, stints.Length];
        for (var from = 0; from < stints.Length; from++)
            for (var to = 0; to < stints.Length; to++) spans[from, to] = from == to ? MinMinutes(stints[from]) : -1;
        var precedences = propagation.Windows.Precedences.Where(precedence =>
            positions.ContainsKey(precedence.Predecessor) && positions.ContainsKey(precedence.Successor)).ToArray();
        for (var (round, changed) = (0, true); changed && round < stints.Length; round++)
        {
            changed = false;
            foreach (var precedence in precedences)
                for (var from = 0; from < stints.Length; from++)
                {
                    var (before, after) = (spans[from, positions[precedence.Predecessor]], positions[precedence.Successor]);
                    var span = before + precedence.Lag + MinMinutes(precedence.Successor);
                    if (before < 0 || span <= spans[from, after]) continue;
                    (spans[from, after], changed) = (span, true);
                }
        }
        return spans;
    }

    private int MinMinutes(int stint) => propagation.StartDomains.AllowedModes(problem.Stints[stint])
        .Min(mode => problem.MinutesOf(problem.Stints[stint], mode));
}
