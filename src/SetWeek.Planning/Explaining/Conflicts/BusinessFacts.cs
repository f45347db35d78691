using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>The facts of a week that somebody can change with a telephone call, each with the week without it.</summary>
internal static class BusinessFacts
{
    private static readonly Period Ages = Period.FromYears(1);

    public static IEnumerable<Relief> Kits(Week week) =>
        from kit in week.Kits
        let waiting = week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id))
            .Select(task => InWords.Task(week, task)).ToArray()
        where waiting.Length > 0
        let isShort = KitGate.ShortLines(week).Any(line => line.Kit == kit.Id)
        let what = kit.Eta is { } eta ? $"The kit “{kit.Name}” comes {InWords.Time(eta)}"
            : $"Nobody knows when the kit “{kit.Name}” comes"
        select new Relief("kit", new About { Kit = kit.Id },
            HeldBack.IsFor(kit) ? $"{Held(week, kit)} not to be built."
                : $"{what}{(isShort ? ", and what came of it is short" : "")}; "
                    + $"{InWords.Some(waiting)} {(waiting.Length == 1 ? "needs" : "need")} it.",
            all => all with
            {
                Kits = [.. all.Kits.Select(one => one.Id != kit.Id ? one : one with
                {
                    Eta = week.Nights[0].Opens.Minus(Ages), Lines = [.. one.Lines.Select(line => line with { Settled = true })],
                })],
            }) { Name = $"“{kit.Name}”" };

    public static IEnumerable<Relief> Dues(Week week) =>
        from task in week.Tasks
        where task.Due is not null
        let closes = week.Nights.First(night => night.Id == task.Due).Closes
        select new Relief("due", new About { Task = task.Id, Night = task.Due },
            $"{InWords.Task(week, task)} is due by the end of {InWords.Night(week, task.Due!)}, {InWords.Time(closes)}.",
            all => all with { Tasks = [.. all.Tasks.Select(one => one.Id == task.Id ? one with { Due = null } : one)] })
            { Name = InWords.Task(week, task) };

    public static Relief Launch(Week week) => new("launch", new About(),
        week.Rules.LaunchBufferMinutes is > 0 and var buffer
            ? $"Everything must stand {Say.Length(buffer)} before the launch on {InWords.Time(week.Launch)}."
            : $"Everything must stand for the launch on {InWords.Time(week.Launch)}.",
        all => all with { Launch = week.Launch.Plus(Ages) });

    public static IEnumerable<Relief> Bans(Week week) =>
        from night in week.Nights
        from trait in night.Bans.Select(ban => ban.Trait).Distinct()
        let times = night.Bans.Where(ban => ban.Trait == trait)
            .Select(ban => $"from {InWords.Clock(ban.From)} to {InWords.Clock(ban.To)}").ToArray()
        select new Relief("ban", new About { Night = night.Id },
            $"In {InWords.Night(week, night.Id)} no work that is “{trait}” may be done {InWords.All(times)}.",
            all => all with
            {
                Nights = [.. all.Nights.Select(one => one.Id != night.Id ? one
                    : one with { Bans = [.. one.Bans.Where(ban => ban.Trait != trait)] })],
            }) { Name = $"“{trait}” in {InWords.Night(week, night.Id)}" };

    public static IEnumerable<Relief> Equipment(Week week) =>
        week.Store.Equipment.Select(piece => new Relief("equipment", new About { Equipment = piece.Id },
            $"Of “{piece.Id}” the store has {piece.Count}.",
            all => all with
            {
                Store = all.Store with { Equipment =
                    [.. all.Store.Equipment.Select(one => one.Id == piece.Id ? one with { Count = 10_000 } : one)] },
            }) { Name = $"“{piece.Id}”" });

    public static IEnumerable<Relief> Rooms(Week week) =>
        week.Store.Zones.Where(zone => zone.MaxPeople is not null)
            .Select(zone => new Relief("zone-room", new About { Zone = zone.Id },
            $"{zone.Name} has room for {InWords.People(zone.MaxPeople!.Value)} at work at once.",
            all => all with
            {
                Store = all.Store with { Zones =
                    [.. all.Store.Zones.Select(one => one.Id == zone.Id ? one with { MaxPeople = null } : one)] },
            }) { Name = zone.Name });

    public static IEnumerable<Relief> Windows(Week week) =>
        week.Nights.Select((night, index) => new Relief("window", new About { Night = night.Id },
            $"The store is worked on in {InWords.Night(week, night.Id)} from {InWords.Clock(night.Opens)} to "
                + $"{InWords.Clock(night.Closes)}.",
            all => all with
            {
                Nights = [.. all.Nights.Select(one => one.Id != night.Id ? one
                    : one with { Opens = WindowRoom.Earliest(week, index), Closes = WindowRoom.Latest(week, index) })],
            }) { Name = InWords.Night(week, night.Id) });

    public static IEnumerable<Relief> Skills(Week week) =>
        from skill in week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []))
            .Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal)
        let able = week.Crew.Where(member => member.Skills.GetValueOrDefault(skill) > 0)
            .Select(member => $"{member.Name} (level {member.Skills[skill]})").ToArray()
        where able.Length < week.Crew.Count || week.Crew.Any(member => member.Skills.GetValueOrDefault(skill) < 3)
        select new Relief("skill", new About { Skill = skill },
            able.Length == 0 ? $"Nobody has the skill “{skill}”."
                : $"Of the crew only {InWords.Some(able, 6)} {(able.Length == 1 ? "has" : "have")} the skill “{skill}”.",
            all => all with
            {
                Crew = [.. all.Crew.Select(member => member with
                {
                    Skills = new Dictionary<string, int>(member.Skills, StringComparer.Ordinal) { [skill] = 3 },
                })],
            }) { Name = $"“{skill}”" };

    public static IEnumerable<Relief> Absences(Week week) =>
        week.Crew.Where(member => member.Commitments.Count > 0 || !AllNights(week, member))
            .Select(member => new Relief("availability", new About { Person = member.Id }, Away(week, member),
                all => all with
                {
                    Crew = [.. all.Crew.Select(one => one.Id != member.Id ? one : one with
                    {
                        Available = [.. all.Nights.Select(night => new Availability(night.Id))], Commitments = [],
                    })],
                }) { Name = member.Name });

    public static IEnumerable<Relief> Musts(Week week) =>
        week.Displays.Where(display => display.Commitment == Promise.Must)
            .Select(display => new Relief("whole", new About { Display = display.Id },
            display.Alternate is { } alternate
                ? $"“{display.Name}” must stand, or “{week.Displays.First(other => other.Id == alternate.Display).Name}” instead."
                : $"“{display.Name}” must stand.",
            all => all with
            {
                Displays = [.. all.Displays.Select(one => one.Id == display.Id
                    ? one with { Commitment = Promise.Want, Value = 100 } : one)],
            }) { Name = $"“{display.Name}”" });

    /// <summary>"“Canopy” and “Banner” are".</summary>
    private static string Held(Week week, Kit kit)
    {
        string[] held = [.. week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).Select(task => task.Display)
            .Distinct().Select(id => $"“{week.Displays.First(display => display.Id == id).Name}”")];
        return $"{InWords.All(held)} {(held.Length == 1 ? "is" : "are")}";
    }

    private static bool AllNights(Week week, CrewMember member) =>
        week.Nights.All(night => member.Available.Contains(new(night.Id)));

    private static string Away(Week week, CrewMember member)
    {
        string[] off = [.. week.Nights.Where(night => member.Available.All(entry => entry.Night != night.Id))
            .Select(night => night.Id)];
        string[] part = [.. member.Available.Where(entry => entry.From is not null || entry.To is not null)
            .Select(entry => entry.Night).Distinct().Except(off)];
        string?[] ways =
        [
            off.Length == week.Nights.Count ? "cannot come to any night"
                : off.Length > 0 ? $"cannot come in {InWords.All([.. off.Select(night => InWords.Night(week, night))])}" : null,
            part.Length > 0 ? $"comes for part of {InWords.All([.. part.Select(night => InWords.Night(week, night))])} only"
                : null,
            member.Commitments.Count switch
            {
                0 => null,
                1 => $"is busy from {InWords.Time(member.Commitments[0].From)} to {InWords.Time(member.Commitments[0].To)}",
                var count => $"has {count} commitments",
            },
        ];
        return $"{member.Name} {InWords.All([.. ways.OfType<string>()])}.";
    }
}
