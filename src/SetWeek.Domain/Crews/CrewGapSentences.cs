using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>What the crew of a week lacks for its work, in sentences that name nobody.</summary>
public static class CrewGapSentences
{
    /// <summary>One sentence for each skill, on the role that lacks most people; then one for each task that lacks them.</summary>
    /// <returns>None exactly if the crew can do every mode of every task, and every clean-down.</returns>
    public static IReadOnlyList<string> Of(Week week)
    {
        CrewGap[] gaps = [.. CrewGap.AllOf(week).Select(gap => WithoutNeedlessTrait(gap, week))];
        return
        [
            .. from gap in gaps
                where gap.Role is not null
                group gap by (gap.Role!.Skill, gap.Trait, gap.HasOtherMode) into same
                orderby same.Key.HasOtherMode, same.Key.Skill, same.Key.Trait
                select OfRole(same.MaxBy(gap => (gap.Needed - gap.Able, gap.Role!.Level))!),
            .. gaps.Where(gap => gap.Role is null).Select(OfAllRoles).Distinct(),
        ];
    }

    /// <summary>If too few have the skill at all, nothing need be said of who may do the work.</summary>
    private static CrewGap WithoutNeedlessTrait(CrewGap gap, Week week) =>
        gap is { Role: { } role, Trait: not null } && week.Crew.Count(role.IsMetBy) is var able && able < gap.Needed
            ? gap with { Trait = null, Able = able } : gap;

    private static string OfRole(CrewGap gap)
    {
        var (skill, level) = (gap.Role!.Skill, gap.Role.Level);
        return $"{char.ToUpperInvariant(skill[0])}{skill[1..]} needs {People(gap.Needed)}{(level > 1 ? $" of level {level}" : "")}"
            + $"{(gap.Trait is { } trait ? $" who may do “{trait}” work" : "")} at once"
            + $"{(gap.HasOtherMode ? $" for one way to do “{gap.Task!.Name}”" : "")}; "
            + $"the crew has {(gap.Able == 0 ? "nobody" : $"{gap.Able}")}.";
    }

    private static string OfAllRoles(CrewGap gap)
    {
        var work = gap.Task is not { } task ? $"The clean-down of {gap.Zone!.Name}"
            : gap.HasOtherMode ? $"One way to do “{task.Name}”" : $"“{task.Name}”";
        return $"{work} needs {People(gap.Needed)} at once, each in one role; the crew can fill {gap.Able}.";
    }

    private static string People(int count) => count == 1 ? "1 person" : $"{count} people";
}
