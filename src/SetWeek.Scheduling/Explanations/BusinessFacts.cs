using System.Globalization;
using NodaTime;

namespace SetWeek.Scheduling.Explanations;

/// <summary>The facts of a week that somebody can change with a telephone call, each with the week without it.</summary>
internal static class BusinessFacts
{
    private static readonly Period Ages = Period.FromYears(1);

    /// <summary>What is waited for, by when, with what, where and by whom.</summary>
    public static IEnumerable<Relief> Of(Week week) =>
        [.. Kits(week), .. Dues(week), Launch(week), .. Bans(week), .. Equipment(week), .. Rooms(week), .. Skills(week)];

    private static IEnumerable<Relief> Kits(Week week) =>
        from kit in week.Kits
        where week.Tasks.Any(task => task.Needs.Any(need => need.Kit == kit.Id))
        let counted = kit.Lines.Any(line => line.Received is not null && !line.Settled)
        select new Relief("kit", new About { Kit = kit.Id },
            kit.Eta is not { } eta ? $"Nobody knows when the kit “{kit.Name}” comes, and work that must be done needs it."
                : counted ? $"The kit “{kit.Name}” ({Say(eta)}) is late, or too little of it came, for work that must be done with it."
                : $"The kit “{kit.Name}” comes {Say(eta)}: too late for work that must be done with it.",
            all => all with
            {
                Kits = [.. all.Kits.Select(one => one.Id != kit.Id ? one : one with
                {
                    Eta = all.Nights[0].Opens.Minus(Ages), Lines = [.. one.Lines.Select(line => line with { Settled = true })],
                })],
            });

    private static IEnumerable<Relief> Dues(Week week) =>
        week.Tasks.Where(task => task.Due is not null)
            .Select(task => new Relief("due", new About { Task = task.Id, Night = task.Due },
            $"“{task.Name}” ({task.Id}) is due by the end of {task.Due}: that is too early.",
            all => all with { Tasks = [.. all.Tasks.Select(one => one.Id == task.Id ? one with { Due = null } : one)] }));

    private static Relief Launch(Week week) => new("launch", new About(),
        week.Rules.LaunchBufferMinutes is > 0 and var buffer
            ? $"Everything must stand {buffer} minutes before the launch on {Say(week.Launch)}: that is too early."
            : $"Everything must stand for the launch on {Say(week.Launch)}: that is too early.",
        all => all with { Launch = all.Launch.Plus(Ages) });

    private static IEnumerable<Relief> Bans(Week week) =>
        week.Nights.SelectMany(night => night.Bans).Select(ban => ban.Trait).Distinct()
            .Select(trait => new Relief("ban", new About(),
            $"Work that is “{trait}” is banned for part of the nights, and the rest is too short for it.",
            all => all with
            {
                Nights = [.. all.Nights.Select(night => night with { Bans = [.. night.Bans.Where(ban => ban.Trait != trait)] })],
            }));

    private static IEnumerable<Relief> Equipment(Week week) =>
        week.Store.Equipment.Select(piece => new Relief("equipment", new About { Equipment = piece.Id },
            $"The store has {piece.Count} of “{piece.Id}”: not enough for the work that must be done with it.",
            all => all with
            {
                Store = all.Store with { Equipment =
                    [.. all.Store.Equipment.Select(one => one.Id == piece.Id ? one with { Count = 10_000 } : one)] },
            }));

    private static IEnumerable<Relief> Rooms(Week week) =>
        week.Store.Zones.Where(zone => zone.MaxPeople is not null)
            .Select(zone => new Relief("zone-room", new About { Zone = zone.Id },
            $"{zone.Name} has room for {zone.MaxPeople} at work at once: too few for the work that must be done there.",
            all => all with
            {
                Store = all.Store with { Zones =
                    [.. all.Store.Zones.Select(one => one.Id == zone.Id ? one with { MaxPeople = null } : one)] },
            }));

    /// <summary>How long each night is.</summary>
    public static IEnumerable<Relief> Closes(Week week) =>
        week.Nights.Select((night, index) => new Relief("window", new About { Night = night.Id },
            $"Night {night.Id} is worked from {Say(night.Opens)} to {Say(night.Closes)}: too short for what must be done in it.",
            all => all with { Nights =
                [.. all.Nights.Select((one, at) => at == index ? one with { Closes = Later(all, at) } : one)] }));

    /// <summary>Half a day after the night opens, or when the next one does.</summary>
    private static LocalDateTime Later(Week week, int night)
    {
        var late = LocalDateTime.Max(week.Nights[night].Closes, week.Nights[night].Opens.PlusHours(12));
        return night + 1 < week.Nights.Count ? LocalDateTime.Min(late, week.Nights[night + 1].Opens) : late;
    }

    private static IEnumerable<Relief> Skills(Week week) =>
        week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []))
            .Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal)
            .Select(skill => new Relief("skill", new About { Skill = skill },
                $"Too few of the crew, at the level asked and at the times they can come, have the skill “{skill}”.",
                all => all with
                {
                    Crew = [.. all.Crew.Select(member => member with
                    {
                        Skills = new Dictionary<string, int>(member.Skills, StringComparer.Ordinal) { [skill] = 3 },
                    })],
                }));

    public static IEnumerable<Relief> Absences(Week week) =>
        week.Crew.Where(member => member.Commitments.Count > 0
            || week.Nights.Any(night => !member.Available.Contains(new(night.Id))))
            .Select(member => new Relief("availability", new About { Person = member.Id },
                $"{member.Name} cannot come to every night for the whole of it, and nobody can stand in.",
                all => all with
                {
                    Crew = [.. all.Crew.Select(one => one.Id != member.Id ? one : one with
                    {
                        Available = [.. all.Nights.Select(night => new Availability(night.Id))], Commitments = [],
                    })],
                }));

    public static IEnumerable<Relief> Musts(Week week) =>
        week.Displays.Where(display => display.Commitment == Promise.Must)
            .Select(display => new Relief("whole", new About { Display = display.Id },
            $"The display “{display.Name}” must stand: without it there is a plan.",
            all => all with
            {
                Displays = [.. all.Displays.Select(one => one.Id == display.Id
                    ? one with { Commitment = Promise.Want, Value = 100 } : one)],
            }));

    private static string Say(LocalDateTime time) => time.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);
}
