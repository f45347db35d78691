using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Places;

/// <summary>
/// The zone-closed rule: after the last stint of a task that closes its zone, no other work and no clean-down runs there for
/// the task's closing minutes.
/// </summary>
internal sealed class ZoneClosedRule : IRule
{
    public RuleId Id => RuleId.ZoneClosed;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var task in problem.Tasks)
        {
            if (task.ClosesZoneMinutes == 0 || byStint[task.LastStint] is not { } last) continue;
            var closed = new Span(last.To, last.To + task.ClosesZoneMinutes);
            foreach (var work in schedule.Work)
                if (work.Zone == task.Zone && !BelongsTo(problem, work, task) && work.Span.Overlaps(closed))
                    yield return new Breach(Id, RulePhrases.Subject(problem, work) with { Zone = problem.Zones[task.Zone].Id },
                        $"{RulePhrases.Work(problem, work)} runs {RulePhrases.Span(problem, work.Span)} in "
                            + $"{problem.Zones[task.Zone].Name}, which {RulePhrases.Task(problem, task)} closes until "
                            + $"{RulePhrases.Time(problem, closed.To)}.")
                        { IsUnavoidable = problem.HasBegun(last) && problem.HasBegun(work) };
        }
    }

    private static bool BelongsTo(Problem problem, ScheduledWork work, IndexedTask task) =>
        work.Stint is { } stint && problem.Stints[stint].Task.Index == task.Index;
}
