using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>
/// Work that the crew could not do even if everybody were in: roles with too few people of the skill and level, and modes
/// whose roles cannot all be filled at once. Who is available when is the planner's business.
/// </summary>
internal static class CrewFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree)
    {
        // With half of the crew unread nobody could be called missing.
        if (!isFaultFree("/crew")) yield break;
        var barred = week.Rules.Under18?.Barred.ToHashSet() ?? [];
        CrewMember[] adults = [.. week.Crew.Where(member => !member.Under18)];

        foreach (var (index, zone) in week.Store.Zones.Index())
            if (zone.CleanDown is { } down)
                foreach (var fault in UnfillableRequirements($"/store/zones/{index}/cleanDown/roles", down.Roles, week.Crew, ""))
                    yield return fault;

        foreach (var (index, task) in week.Tasks.Index())
        {
            var trait = task.Traits.FirstOrDefault(barred.Contains);
            var able = trait is null ? week.Crew : adults;
            foreach (var (way, mode) in task.Modes.Index())
                foreach (var fault in UnfillableRequirements($"/tasks/{index}/modes/{way}/roles", mode.Roles, able,
                    trait is null ? "" : $" and may do work that is {QuotedInput.Of(trait)}"))
                    yield return fault;
        }
    }

    private static IEnumerable<Fault> UnfillableRequirements(string at, IReadOnlyList<SkillRequirement> requirements, IReadOnlyList<CrewMember> crew,
        string condition)
    {
        var alone = true;
        foreach (var (index, role) in requirements.Index())
        {
            var able = crew.Count(member => Meets(member, role));
            if (role.Skill.Length == 0 || able >= role.People) continue;
            alone = false;
            yield return new Fault($"{at}/{index}",
                $"The role asks for {role.People} with {QuotedInput.Of(role.Skill)} at level {role.Level}, and "
                + $"{(able == 0 ? "nobody" : $"only {able}")} of the crew has that{condition}; add people, ask for less, or "
                + "remove this way of working.");
        }
        if (!alone || requirements.Any(role => role.Skill.Length == 0)) yield break;
        var wanted = requirements.Sum(role => role.People);
        // More than there are need no matching, which for a hostile file would take for ever.
        var filled = wanted > crew.Count ? crew.Count : MaximumMatching(requirements, crew);
        if (filled < wanted)
            yield return new Fault(at,
                $"These roles together ask for {wanted} people at once, one role each, and the crew can fill "
                + $"{filled} at most; add people, ask for less, or remove this way of working.");
    }

    private static bool Meets(CrewMember member, SkillRequirement requirement) => member.Skills.GetValueOrDefault(requirement.Skill) >= requirement.Level;

    /// <summary>Largest matching of places to people, by augmenting paths.</summary>
    private static int MaximumMatching(IReadOnlyList<SkillRequirement> requirements, IReadOnlyList<CrewMember> crew)
    {
        SkillRequirement[] places = [.. requirements.SelectMany(role => Enumerable.Repeat(role, role.People))];
        var holds = Enumerable.Repeat(-1, crew.Count).ToArray();
        return Enumerable.Range(0, places.Length).Count(place => Seat(place, new bool[crew.Count]));

        bool Seat(int place, bool[] tried)
        {
            for (var person = 0; person < crew.Count; person++)
            {
                if (tried[person] || !Meets(crew[person], places[place])) continue;
                tried[person] = true;
                if (holds[person] >= 0 && !Seat(holds[person], tried)) continue;
                holds[person] = place;
                return true;
            }
            return false;
        }
    }
}
