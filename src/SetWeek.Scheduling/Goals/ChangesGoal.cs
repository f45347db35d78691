using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Goals;

internal sealed class ChangesGoal : IGoal
{
    public string Id => "changes";

    public long Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var (old, now) = (ByPersonNight(facts.Published), ByPersonNight(schedule));
        var changes = 0L;
        foreach (var key in old.Keys.Union(now.Keys))
        {
            var (was, stands) = (old.GetValueOrDefault(key), now.GetValueOrDefault(key));
            var change = was is null || stands is null ? 2 : was.Span != stands.Span ? 1 : 0;
            changes += AtShortNotice(problem, facts, was) || AtShortNotice(problem, facts, stands) ? 3 * change : change;
        }
        var (before, after) = (facts.Published.ByStint(problem), schedule.ByStint(problem));
        for (var stint = 0; stint < before.Length; stint++)
            if (before[stint] is { } one && after[stint] is { } other && one.Night != other.Night) changes++;
        return changes;
    }

    private static Dictionary<(int Person, int Night), Shift> ByPersonNight(Schedule schedule) =>
        schedule.Shifts.DistinctBy(shift => (shift.Person, shift.Night)).ToDictionary(shift => (shift.Person, shift.Night));

    private static bool AtShortNotice(Problem problem, Facts facts, Shift? shift) =>
        shift is not null && problem.Rules.NoticeMinutes is { } notice && shift.From < facts.Now + notice;

    public LinearExpr Post(ExactModel model) => LinearExpr.Constant(0);
}
