using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>
/// Finds work that the whole crew together could not do: roles with too few people of the skill and level, and modes whose
/// roles cannot all be filled at once. Availability is left to the planner.
/// </summary>
internal static class CrewFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree)
    {
        // A crew that could not be read completely may contain the missing people.
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
            foreach (var (number, mode) in task.Modes.Index())
                foreach (var fault in UnfillableRequirements($"/tasks/{index}/modes/{number}/roles", mode.Roles, able,
                    trait is null ? "" : $" and may do work that is {QuotedInput.Of(trait)}"))
                    yield return fault;
        }
    }

    private static IEnumerable<Fault> UnfillableRequirements(
        string at, IReadOnlyList<SkillRequirement> requirements, IReadOnlyList<CrewMember> crew, string condition)
    {
        var eachFillable = true;
        foreach (var (index, role) in requirements.Index())
        {
            var able = crew.Count(member => Meets(member, role));
            if (role.Skill.Length == 0 || able >= role.People) continue;
            eachFillable = false;
            yield return new Fault($"{at}/{index}",
                $"The role asks for {WeekPhrases.People(role.People)} with {QuotedInput.Of(role.Skill)} at level {role.Level}, "
                + $"but {(able == 0 ? "nobody" : $"only {able}")} in the crew can fill it{condition}; add people, "
                + "ask for fewer, or remove the role.");
        }
        if (!eachFillable || requirements.Any(role => role.Skill.Length == 0)) yield break;
        var required = requirements.Sum(role => role.People);
        // With more places than people the matching is skipped: for a hostile file it would take too long.
        var filled = required > crew.Count ? crew.Count : MaximumMatching(requirements, crew);
        if (filled < required)
            yield return new Fault(at,
                $"These roles together ask for {required} people at once, one role each, but the crew can fill "
                + $"at most {filled}; add people, ask for fewer, or remove a role.");
    }

    private static bool Meets(CrewMember member, SkillRequirement requirement) =>
        member.Skills.GetValueOrDefault(requirement.Skill) >= requirement.Level;

    /// <summary>Size of a maximum bipartite matching of places to people, by augmenting paths.</summary>
    private static int MaximumMatching(IReadOnlyList<SkillRequirement> requirements, IReadOnlyList<CrewMember> crew)
    {
        SkillRequirement[] places = [.. requirements.SelectMany(role => Enumerable.Repeat(role, role.People))];
        var placeOf = Enumerable.Repeat(-1, crew.Count).ToArray();
        return Enumerable.Range(0, places.Length).Count(place => Seat(place, new bool[crew.Count]));

        bool Seat(int place, bool[] tried)
        {
            for (var person = 0; person < crew.Count; person++)
            {
                if (tried[person] || !Meets(crew[person], places[place])) continue;
                tried[person] = true;
                if (placeOf[person] >= 0 && !Seat(placeOf[person], tried)) continue;
                placeOf[person] = place;
                return true;
            }
            return false;
        }
    }
}
