using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>
/// The goal changes: how much a re-plan differs from the published plan. A person-night counts 2 if its shift was added or
/// dropped, and 1 if its shift's start or end moved; three times as much at short notice. Each stint in both plans that moved
/// to another night adds 1. It is 0 in a first plan.
/// </summary>
internal sealed class ChangesGoal : IGoal
{
    public GoalId Id => GoalId.Changes;

    public long Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var (published, current) = (facts.Published.ShiftsByPersonNight(), schedule.ShiftsByPersonNight());
        var changes = 0L;
        foreach (var key in published.Keys.Union(current.Keys))
        {
            var (before, after) = (published.GetValueOrDefault(key), current.GetValueOrDefault(key));
            var change = before is null || after is null ? 2 : before.Span != after.Span ? 1 : 0;
            changes += AtShortNotice(problem, facts, before) || AtShortNotice(problem, facts, after) ? 3 * change : change;
        }
        var (publishedWork, currentWork) = (facts.Published.WorkByStint(problem), schedule.WorkByStint(problem));
        for (var stint = 0; stint < publishedWork.Length; stint++)
            if (publishedWork[stint] is { } was && currentWork[stint] is { } now && was.Night != now.Night) changes++;
        return changes;
    }

    private static bool AtShortNotice(Problem problem, ReplanFacts facts, ScheduledShift? shift) =>
        shift is not null && problem.Rules.NoticeMinutes is { } notice && shift.From < facts.Now + notice;
}
