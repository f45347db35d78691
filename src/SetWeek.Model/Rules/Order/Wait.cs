using SetWeek.Model.Problems;

namespace SetWeek.Model.Rules.Order;

/// <summary>Planned work and the planned end of a task that it is to come after: what the rules of order look at.</summary>
internal readonly record struct Wait(Work Work, Activity Before, Work Last, Link Link)
{
    public static IEnumerable<Wait> All(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var work in byStint)
        {
            if (work is null) continue;
            foreach (var link in problem.Stints[work.Stint!.Value].Task.After)
            {
                var before = problem.Activities[link.Task];
                if (byStint[before.LastStint] is { } last) yield return new Wait(work, before, last, link);
            }
        }
    }
}
