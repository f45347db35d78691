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
    /// <summary>Changes that a shift counts which is added or dropped, and one whose start or end moves.</summary>
    public const int PresenceWeight = 2, MoveWeight = 1;

    /// <summary>Factor of a shift's change at short notice.</summary>
    public const int ShortNoticeFactor = 3;

    public GoalId Id => GoalId.Changes;

    /// <summary>A shift that starts before this minute is at short notice; none is where the rules name no notice.</summary>
    public static int NoticeEnd(Problem problem, ReplanFacts facts) =>
        facts.Now + (problem.Rules.NoticeMinutes ?? -Problem.Never);

    /// <summary>The factor of a change to a shift that starts at a minute.</summary>
    public static int FactorAt(int from, int noticeEnd) => from < noticeEnd ? ShortNoticeFactor : 1;

    public long Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var (published, current) = (facts.Published.ShiftsByPersonNight(), schedule.ShiftsByPersonNight());
        var (changes, noticeEnd) = (0L, NoticeEnd(problem, facts));
        foreach (var key in published.Keys.Union(current.Keys))
        {
            var (before, after) = (published.GetValueOrDefault(key), current.GetValueOrDefault(key));
            var change = before is null || after is null ? PresenceWeight : before.Span != after.Span ? MoveWeight : 0;
            changes += change * FactorAt(Math.Min(before?.From ?? Problem.Never, after?.From ?? Problem.Never), noticeEnd);
        }
        var (publishedWork, currentWork) = (facts.Published.WorkByStint(problem), schedule.WorkByStint(problem));
        for (var stint = 0; stint < publishedWork.Length; stint++)
            if (publishedWork[stint] is { } was && currentWork[stint] is { } now && was.Night != now.Night) changes++;
        return changes;
    }
}
