using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

internal sealed class ChangesGoal : IGoal
{
    public GoalId Id => GoalId.Changes;

    public long Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var (old, now) = (facts.Published.ShiftsByPersonNight(), schedule.ShiftsByPersonNight());
        var changes = 0L;
        foreach (var key in old.Keys.Union(now.Keys))
        {
            var (was, stands) = (old.GetValueOrDefault(key), now.GetValueOrDefault(key));
            var change = was is null || stands is null ? 2 : was.Span != stands.Span ? 1 : 0;
            changes += AtShortNotice(problem, facts, was) || AtShortNotice(problem, facts, stands) ? 3 * change : change;
        }
        var (before, after) = (facts.Published.WorkByStint(problem), schedule.WorkByStint(problem));
        for (var stint = 0; stint < before.Length; stint++)
            if (before[stint] is { } one && after[stint] is { } other && one.Night != other.Night) changes++;
        return changes;
    }

    private static bool AtShortNotice(Problem problem, ReplanFacts facts, ScheduledShift? shift) =>
        shift is not null && problem.Rules.NoticeMinutes is { } notice && shift.From < facts.Now + notice;
}
