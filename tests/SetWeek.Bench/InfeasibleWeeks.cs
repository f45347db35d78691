using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Ways in which a week that can be planned comes to have no plan, as it happens in stores: each takes one of the fixed weeks
/// and a seed that says where it hits.
/// </summary>
public static class InfeasibleWeeks
{
    public static IReadOnlyList<(string Way, Func<Week, Random, Week> Break)> Kinds { get; } =
    [
        ("kit-too-late", (week, _) => Late(week, "kit-props", hoursBeforeTheEnd: 1)),
        ("kit-unknown", (week, chance) => Kits(week, week.Kits[chance.Next(week.Kits.Count)].Id, kit => kit with { Eta = null })),
        ("skill-lacking", SkillLacking),
        ("night-too-short", NightsTooShort),
        ("due-too-early", DueTooEarly),
        ("launch-too-early", (week, _) => week with { Launch = week.Nights[1].Closes.PlusMinutes(120) }),
        ("absences", Absences),
        ("room-too-small", (week, chance) => RoomTooSmall(week, chance)),
        ("two-together", (week, chance) => RoomTooSmall(Late(week, "kit-props", hoursBeforeTheEnd: 1), chance)),
    ];

    public static Week Make(Week week, string kind, int seed) =>
        Kinds.Single(one => one.Way == kind).Break(week, new Random(seed)) with { Id = $"{week.Id}.{kind}" };

    private static Week Late(Week week, string kit, int hoursBeforeTheEnd) =>
        Kits(week, kit, one => one with { Eta = week.Nights[^1].Closes.PlusHours(-hoursBeforeTheEnd) });

    /// <summary>Every night closes earlier, until the work is more than the crew can give.</summary>
    private static Week NightsTooShort(Week week, Random _)
    {
        var shorter = week;
        for (var minutes = 15; WeekGenerator.LoadOf(shorter) < 1.05; minutes += 15)
            shorter = Nights(week, night => night with { Closes = night.Closes.PlusMinutes(-minutes) });
        return shorter;
    }

    /// <summary>One after the other is away, keyholders last, until the work is more than the others can give.</summary>
    private static Week Absences(Week week, Random chance)
    {
        var order = week.Crew.OrderBy(member => member.Keyholder).ThenBy(_ => chance.Next())
            .Select(member => member.Id).ToArray();
        var fewer = week;
        for (var away = 1; WeekGenerator.LoadOf(fewer) < 1.05; away++)
            fewer = Crew(week, member => order.Take(away).Contains(member.Id) ? member with { Available = [] } : member);
        return fewer;
    }

    /// <summary>The skill is left to one person, and they can come in the first two nights.</summary>
    private static Week SkillLacking(Week week, Random chance)
    {
        var skill = new[] { "painting", "rigging", "dressing" }[chance.Next(3)];
        var best = week.Crew.OrderByDescending(member => member.Skills.GetValueOrDefault(skill)).First().Id;
        return Crew(week, member => member.Id == best
            ? member with { Available = [.. member.Available.Where(entry => entry.Night is "night-1" or "night-2")] }
            : member with { Skills = member.Skills.Where(one => one.Key != skill)
                .ToDictionary(one => one.Key, one => one.Value) });
    }

    private static Week DueTooEarly(Week week, Random chance)
    {
        var fills = week.Tasks.Where(task => task.Id.StartsWith("wall-", StringComparison.Ordinal) && task.Name == "fill")
            .ToArray();
        var early = fills[chance.Next(fills.Length)].Id;
        return week with { Tasks = [.. week.Tasks.Select(task => task.Id == early ? task with { Due = "night-1" } : task)] };
    }

    /// <summary>Something is moved there that takes three people.</summary>
    private static Week RoomTooSmall(Week week, Random chance)
    {
        var moves = week.Tasks.Where(task => task.Name == "move").ToArray();
        var zone = moves[chance.Next(moves.Length)].Zone;
        return week with
        {
            Store = week.Store
                with { Zones = [.. week.Store.Zones.Select(one => one.Id == zone ? one with { MaxPeople = 2 } : one)] },
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
