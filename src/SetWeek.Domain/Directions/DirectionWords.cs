using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>The parts of one version of a direction as people read them.</summary>
internal sealed class DirectionWords(Direction direction)
{
    public string Display(string id) => direction.Displays.FirstOrDefault(display => display.Id == id)?.Name ?? id;

    public string Zone(string id) => direction.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;

    public static string Promise(DirectedDisplay display) =>
        display.Commitment == DisplayCommitment.Must ? "It must be built." : $"It is wanted, value {display.Value}.";

    public IReadOnlyList<string> Alternate(DirectedDisplay display) =>
        display.Alternate is { } other ? [$"{Display(other.Display)}, value {other.Value}"] : [];

    public static IReadOnlyList<string> Drawings(DirectedDisplay display) =>
        [.. display.Drawings.Select(Drawing)];

    private static string Drawing(Drawing drawing) => Joined("; ", drawing.Shows, drawing.Address);

    public IReadOnlyList<string> Colours(DirectedDisplay display) =>
        [.. display.Colours.Select(colour => Joined(": ", colour.Name, Phrase(Tasks(colour.Tasks))))];

    public IReadOnlyList<string> Figures(DirectedDisplay display) =>
    [
        .. display.Figures.Select(figure => Joined(": ", figure.Name,
            Joined("; ", [.. figure.Wears, figure.Pose, figure.Accessory, Phrase(Tasks(figure.Tasks))]))),
    ];

    public IReadOnlyList<string> Tasks(IReadOnlyList<string> ids) => [.. ids.Select(Task)];

    public static IReadOnlyList<string> Hands(WeekTask task) =>
    [
        .. task.Stints > 1 ? (string[])[$"{task.Stints} parts"] : [],
        .. task.Modes.Select(mode => Joined("; ", $"{mode.Minutes} min",
            Phrase(mode.Roles.Select(role =>
                $"{role.People} with {IdWords.Spaced(role.Skill)}{(role.Level > 1 ? $", level {role.Level}" : "")}")),
            Phrase(mode.Equipment.Select(use => $"{use.Count} × {IdWords.Spaced(use.Id)}")))),
    ];

    public IReadOnlyList<string> Before(WeekTask task) =>
    [
        .. task.After.Select(before => Joined(", ", Task(before.Task),
            before.DryMinutes > 0 ? $"then {before.DryMinutes} min to dry" : null,
            before.SameNight ? "in the same night" : null)),
    ];

    public IReadOnlyList<string> Needs(WeekTask task) =>
    [
        .. task.Needs.Select(need =>
            need.Item is null ? $"all of {Kit(need.Kit)}" : $"{need.Count} × {IdWords.Spaced(need.Item)} of {Kit(need.Kit)}"),
    ];

    public static IReadOnlyList<string> Properties(WeekTask task) =>
    [
        .. task.Traits,
        .. ((string?[])
        [
            task.Estimate is { } range ? $"between {range.Optimistic} and {range.Pessimistic} min" : null,
            task.Last ? "the last work of all" : null, task.Empties ? "leaves its place bare" : null,
            task.Fills ? "its place sells again once it is done" : null,
            task.ClosesZoneMinutes > 0 ? $"nobody works in its place for {task.ClosesZoneMinutes} min after it" : null,
        ]).OfType<string>(),
    ];

    public static IReadOnlyList<string> Cartons(DirectedKit kit) =>
        [.. kit.Cartons.Select(carton => Joined(": ", carton.Mark,
            Joined("; ", [.. carton.Holds, Phrase(carton.Items.Select(IdWords.Spaced))])))];

    public static IReadOnlyList<string> Steps(TechniqueCard card) =>
        [.. card.Steps.Select(step =>
            Joined(" ", step.Text, step.Picture is { } picture ? $"Picture: {Drawing(picture)}" : null))];

    public static IReadOnlyList<string> Films(TechniqueCard card) =>
    [
        .. card.Films.Select(film => Joined("; ", [film.Title, film.Seconds is { } length ? $"{length} s" : null, film.Address,
            .. film.Said.Select(moment => $"{moment.Second} s: {moment.Shows}")])),
    ];

    private string Task(string id) => direction.Tasks.FirstOrDefault(task => task.Id == id)?.Name ?? id;

    private string Kit(string id) => direction.Kits.FirstOrDefault(kit => kit.Id == id)?.Name ?? id;

    private static string? Phrase(IEnumerable<string> words) => words.ToList() is { Count: > 0 } list ? Phrases.List(list) : null;

    /// <summary>The texts that are there.</summary>
    private static string Joined(string between, params IEnumerable<string?> texts) =>
        string.Join(between, texts.Where(text => !string.IsNullOrEmpty(text)));
}
