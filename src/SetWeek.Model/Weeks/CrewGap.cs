namespace SetWeek.Model.Weeks;

/// <summary>
/// Roles that the whole crew together cannot fill: one has too few people of its skill and level, or each has enough and they
/// cannot all be filled at once. Availability is left to the planner.
/// </summary>
/// <param name="Pointer">Where the roles are in the week's file, as a JSON Pointer.</param>
/// <param name="Needed">How many people they ask for at once.</param>
/// <param name="Able">How many people the crew has for that.</param>
public sealed record CrewGap(string Pointer, int Needed, int Able)
{
    /// <summary>The task; null for a clean-down.</summary>
    public WeekTask? Task { get; init; }

    /// <summary>The zone of the clean-down; null for a task.</summary>
    public Zone? Zone { get; init; }

    /// <summary>The role with too few people; null if only all roles of the mode together have too few.</summary>
    public SkillRequirement? Role { get; init; }

    /// <summary>The trait of the task for which part of the crew may not be counted; null if all may be.</summary>
    public string? Trait { get; init; }

    /// <summary>Whether the task has another mode whose roles can be filled.</summary>
    public bool HasOtherMode { get; init; }

    /// <summary>The gaps of the clean-downs and of each mode of each task.</summary>
    public static IEnumerable<CrewGap> AllOf(Week week)
    {
        var barred = week.Rules.Under18?.Barred.ToHashSet() ?? [];
        CrewMember[] adults = [.. week.Crew.Where(member => !member.Under18)];

        foreach (var (index, zone) in week.Store.Zones.Index())
            if (zone.CleanDown is { } down)
                foreach (var gap in In($"/store/zones/{index}/cleanDown/roles", down.Roles, week.Crew))
                    yield return gap with { Zone = zone };

        foreach (var (index, task) in week.Tasks.Index())
        {
            var trait = task.Traits.FirstOrDefault(barred.Contains);
            var able = trait is null ? week.Crew : adults;
            CrewGap[][] modes = [.. task.Modes.Select((mode, number) =>
                In($"/tasks/{index}/modes/{number}/roles", mode.Roles, able).ToArray())];
            foreach (var gap in modes.SelectMany(gaps => gaps))
                yield return gap with { Task = task, Trait = trait, HasOtherMode = modes.Any(gaps => gaps.Length == 0) };
        }
    }

    private static IEnumerable<CrewGap> In(
        string at, IReadOnlyList<SkillRequirement> roles, IReadOnlyList<CrewMember> crew)
    {
        var eachFillable = true;
        foreach (var (index, role) in roles.Index())
        {
            var able = crew.Count(role.IsMetBy);
            if (role.Skill.Length == 0 || able >= role.People) continue;
            eachFillable = false;
            yield return new CrewGap($"{at}/{index}", role.People, able) { Role = role };
        }
        if (!eachFillable || roles.Any(role => role.Skill.Length == 0)) yield break;
        var required = roles.Sum(role => role.People);
        // With more places than people the matching is skipped: for a hostile file it would take too long.
        var filled = required > crew.Count ? crew.Count : MaximumMatching(roles, crew);
        if (filled < required) yield return new CrewGap(at, required, filled);
    }

    /// <summary>Size of a maximum bipartite matching of places to people, by augmenting paths.</summary>
    private static int MaximumMatching(IReadOnlyList<SkillRequirement> roles, IReadOnlyList<CrewMember> crew)
    {
        SkillRequirement[] places = [.. roles.SelectMany(role => Enumerable.Repeat(role, role.People))];
        var placeOf = Enumerable.Repeat(-1, crew.Count).ToArray();
        return Enumerable.Range(0, places.Length).Count(place => Seat(place, new bool[crew.Count]));

        bool Seat(int place, bool[] tried)
        {
            for (var person = 0; person < crew.Count; person++)
            {
                if (tried[person] || !places[place].IsMetBy(crew[person])) continue;
                tried[person] = true;
                if (placeOf[person] >= 0 && !Seat(placeOf[person], tried)) continue;
                placeOf[person] = place;
                return true;
            }
            return false;
        }
    }
}
