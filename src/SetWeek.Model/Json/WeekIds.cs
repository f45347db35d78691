using SetWeek.Model.Weeks;

namespace SetWeek.Model.Json;

/// <summary>The ids of a valid week, by kind.</summary>
internal sealed class WeekIds(Week week)
{
    public KnownIds Nights { get; } = new("night", [.. week.Nights.Select(night => night.Id)]);
    public KnownIds Crew { get; } = new("person", [.. week.Crew.Select(member => member.Id)]);
    public KnownIds Zones { get; } = new("zone", [.. week.Store.Zones.Select(zone => zone.Id)]);
    public KnownIds Equipment { get; } = new("equipment", [.. week.Store.Equipment.Select(piece => piece.Id)]);
    public KnownIds Kits { get; } = new("kit", [.. week.Kits.Select(kit => kit.Id)]);
    public KnownIds Displays { get; } = new("display", [.. week.Displays.Select(display => display.Id)]);
    public KnownIds WithAlternate { get; } = new("display with an alternate",
        [.. week.Displays.Where(display => display.Alternate is not null).Select(display => display.Id)]);
    public KnownIds Tasks { get; } = new("task", [.. week.Tasks.Select(task => task.Id)]);

    /// <summary>A fault if a known kit has no line of that item.</summary>
    public Fault? UnknownLineFault(string pointer, string kit, string item) =>
        new KnownIds($"item of the kit {QuotedInput.Of(kit)}",
            [.. week.Kits.Where(candidate => candidate.Id == kit).SelectMany(candidate => candidate.Lines)
                .Select(line => line.Item)])
            .UnknownIdFault(pointer, item);

    /// <summary>Skills that a person has or that work requires.</summary>
    public KnownIds Skills { get; } = new("skill",
    [
        .. week.Crew.SelectMany(member => member.Skills.Keys),
        .. week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles).Select(role => role.Skill),
        .. week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []).Select(role => role.Skill),
    ]);
}
