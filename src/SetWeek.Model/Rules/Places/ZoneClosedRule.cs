using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Places;

internal sealed class ZoneClosedRule : IRule
{
    public string Id => "zone-closed";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var task in problem.Activities)
        {
            if (task.ClosesZone == 0 || byStint[task.LastStint] is not { } last) continue;
            var closed = new Span(last.To, last.To + task.ClosesZone);
            foreach (var work in schedule.Work)
                if (work.Zone == task.Zone && !IsOf(problem, work, task) && work.Span.Overlaps(closed))
                    yield return new Breach(Id, Say.About(problem, work) with { Zone = problem.Zones[task.Zone].Id },
                        $"{Say.Work(problem, work)} runs {Say.Span(problem, work.Span)} in "
                            + $"{problem.Zones[task.Zone].Name}, which {Say.Task(problem, task)} closes until "
                            + $"{Say.At(problem, closed.To)}.")
                        { OnlyFacts = problem.Began(last) && problem.Began(work) };
        }
    }

    private static bool IsOf(Problem problem, Work work, Activity task) =>
        work.Stint is { } stint && problem.Stints[stint].Task.Index == task.Index;
}
