using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Makes a feasible week infeasible, in the ways that occur in stores. The seed decides which kit, person, task or zone is
/// affected.
/// </summary>
public static class InfeasibleWeeks
{
    public static IReadOnlyList<(string Kind, Func<Week, Random, Week> Break)> Kinds { get; } =
    [
        ("kit-too-late", (week, _) => Late(week, "kit-props", hoursBeforeTheEnd: 1)),
        ("kit-unknown", (week, random) => Kits(week, week.Kits[random.Next(week.Kits.Count)].Id, kit => kit with { Eta = null })),
        ("skill-lacking", SkillLacking),
        ("night-too-short", NightsTooShort),
        ("due-too-early", DueTooEarly),
        ("launch-too-early", (week, _) => week with { Launch = week.Nights[1].Closes.PlusMinutes(120) }),
        ("absences", Absences),
        ("room-too-small", (week, random) => RoomTooSmall(week, random)),
        ("two-together", (week, random) => RoomTooSmall(Late(week, "kit-props", hoursBeforeTheEnd: 1), random)),
    ];

    public static Week Make(Week week, string kind, int seed) =>
        Kinds.Single(known => known.Kind == kind).Break(week, new Random(seed)) with { Id = $"{week.Id}.{kind}" };

    private static Week Late(Week week, string kit, int hoursBeforeTheEnd) =>
        Kits(week, kit, late => late with { Eta = week.Nights[^1].Closes.PlusHours(-hoursBeforeTheEnd) });

    /// <summary>All nights close earlier, until the work exceeds the capacity of the crew.</summary>
    private static Week NightsTooShort(Week week, Random _)
    {
        var shorter = week;
        for (var minutes = 15; WeekGenerator.LoadOf(shorter) < 1.05; minutes += 15)
            shorter = Nights(week, night => night with { Closes = night.Closes.PlusMinutes(-minutes) });
        return shorter;
    }

    /// <summary>More and more people are absent, keyholders last, until the work exceeds the capacity of the others.</summary>
    private static Week Absences(Week week, Random random)
    {
        var order = week.Crew.OrderBy(member => member.Keyholder).ThenBy(_ => random.Next())
            .Select(member => member.Id).ToArray();
        var fewer = week;
        for (var away = 1; WeekGenerator.LoadOf(fewer) < 1.05; away++)
            fewer = Crew(week, member => order.Take(away).Contains(member.Id) ? member with { Available = [] } : member);
        return fewer;
    }

    /// <summary>Only one person keeps the skill, and is available in the first two nights alone.</summary>
    private static Week SkillLacking(Week week, Random random)
    {
        var skill = new[] { "painting", "rigging", "dressing" }[random.Next(3)];
        var best = week.Crew.OrderByDescending(member => member.Skills.GetValueOrDefault(skill)).First().Id;
        return Crew(week, member => member.Id == best
            ? member with { Available = [.. member.Available.Where(entry => entry.Night is "night-1" or "night-2")] }
            : member with { Skills = member.Skills.Where(entry => entry.Key != skill)
                .ToDictionary(entry => entry.Key, entry => entry.Value) });
    }

    private static Week DueTooEarly(Week week, Random random)
    {
        var fills = week.Tasks.Where(task => task.Id.StartsWith("wall-", StringComparison.Ordinal) && task.Name == "fill")
            .ToArray();
        var early = fills[random.Next(fills.Length)].Id;
        return week with { Tasks = [.. week.Tasks.Select(task => task.Id == early ? task with { Due = "night-1" } : task)] };
    }

    /// <summary>The zone of a move that takes three people has room for two.</summary>
    private static Week RoomTooSmall(Week week, Random random)
    {
        var moves = week.Tasks.Where(task => task.Name == "move").ToArray();
        var zone = moves[random.Next(moves.Length)].Zone;
        return week with
        {
            Store = week.Store
                with { Zones = [.. week.Store.Zones.Select(place => place.Id == zone ? place with { MaxPeople = 2 } : place)] },
        };
    }

    private static Week Kits(Week week, string id, Func<Kit, Kit> change) =>
        week with { Kits = [.. week.Kits.Select(kit => kit.Id == id ? change(kit) : kit)] };

    private static Week Crew(Week week, Func<CrewMember, CrewMember> change) =>
        week with { Crew = [.. week.Crew.Select(change)] };

    private static Week Nights(Week week, Func<Night, Night> change) => week with
    {
        Nights = [.. week.Nights.Select(night => change(night) with { Bans = [] })],
    };
}
