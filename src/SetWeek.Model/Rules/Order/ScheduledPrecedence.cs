using SetWeek.Model.Problems;

namespace SetWeek.Model.Rules.Order;

/// <summary>A precedence both of whose tasks are planned. The rules after, drying and same-night check each of them.</summary>
/// <param name="Successor">Any stint of the successor.</param>
/// <param name="PredecessorTask">The predecessor.</param>
/// <param name="PredecessorWork">Its last stint.</param>
/// <param name="Precedence">The lag and the same-night condition.</param>
internal readonly record struct ScheduledPrecedence(
    ScheduledWork Successor, IndexedTask PredecessorTask, ScheduledWork PredecessorWork, Precedence Precedence)
{
    /// <summary>Every precedence of the schedule, once for each planned stint of the successor.</summary>
    public static IEnumerable<ScheduledPrecedence> All(Problem problem, Schedule schedule)
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var work in byStint)
        {
            if (work is null) continue;
            foreach (var precedence in problem.Stints[work.Stint!.Value].Task.Precedences)
            {
                var predecessor = problem.Tasks[precedence.Predecessor];
                if (byStint[predecessor.LastStint] is { } last)
                    yield return new ScheduledPrecedence(work, predecessor, last, precedence);
            }
        }
    }
}
