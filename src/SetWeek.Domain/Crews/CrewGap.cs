using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Crews;

/// <summary>A skill of which the crew of a week has too few people, so that some work can be done by nobody.</summary>
/// <param name="Level">The least level.</param>
/// <param name="Needed">How many people the work needs at once.</param>
/// <param name="Able">How many the crew has.</param>
public sealed record CrewGap(string Skill, int Level, int Needed, int Able)
{
    /// <summary>
    /// The gaps, one for each skill, the one that lacks most people. A task is done in one of its modes, so only a task that
    /// cannot be done in any of them counts, with its first mode.
    /// </summary>
    public static IReadOnlyList<CrewGap> Of(Week week) =>
    [
        .. from role in week.Tasks.Where(task => task.Modes.All(mode => mode.Roles.Any(role => IsShort(week, role))))
                .SelectMany(task => task.Modes[0].Roles)
                .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []))
            where IsShort(week, role)
            group role by role.Skill into same
            orderby same.Key
            select same.Select(role => new CrewGap(role.Skill, role.Level, role.People, CountOf(week, role)))
                .MaxBy(gap => (gap.Needed - gap.Able, gap.Level))!,
    ];

    private static bool IsShort(Week week, SkillRequirement role) => CountOf(week, role) < role.People;

    private static int CountOf(Week week, SkillRequirement role) =>
        week.Crew.Count(member => member.Skills.GetValueOrDefault(role.Skill) >= role.Level);
}
