using SetWeek.Model.Problems;

namespace SetWeek.Model.Rules.Order;

/// <summary>Planned work and the planned end of a task that it is to come after: what the rules of order look at.</summary>
internal readonly record struct ScheduledPrecedence(ScheduledWork Successor, IndexedTask PredecessorTask, ScheduledWork PredecessorWork, Precedence Precedence)
{
    public static IEnumerable<ScheduledPrecedence> All(Problem problem, Schedule schedule)
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var work in byStint)
        {
            if (work is null) continue;
            foreach (var precedence in problem.Stints[work.Stint!.Value].Task.Precedences)
            {
                var before = problem.Tasks[precedence.Predecessor];
                if (byStint[before.LastStint] is { } last) yield return new ScheduledPrecedence(work, before, last, precedence);
            }
        }
    }
}
