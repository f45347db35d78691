using System.Globalization;
using System.Text.Json.Nodes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Trials;

/// <summary>The kinds of change that the what-if page offers, each with the fields of its JSON (docs/formats.md).</summary>
public static class ChangeKinds
{
    /// <param name="Kind">The value of "kind".</param>
    public sealed record ChangeKind(string Kind, string Title, IReadOnlyList<ChangeField> Fields);

    /// <param name="Type">"choice", "number", "boolean" or "datetime-local".</param>
    /// <param name="Options">What can be chosen; empty for another type.</param>
    /// <param name="Empty">What an empty field means in JSON: null is left out, "null" is null.</param>
    public sealed record ChangeField(
        string Name, string Label, string Type, IReadOnlyList<(string Value, string Text)> Options, string? Empty = null);

    private static readonly IReadOnlyList<(string Value, string Text)> NoOptions = [];

    public static IReadOnlyList<ChangeKind> Of(Week week)
    {
        var words = new WeekLabels(week);
        (string, string)[] nights = [.. week.Nights.Select(night => (night.Id, WeekLabels.Day(night.Opens)))];
        (string, string)[] tasks = [.. week.Tasks.Select(task => (task.Id, words.TaskName(task.Id)))];
        (string, string)[] displays = [.. week.Displays.Select(display => (display.Id, display.Name))];
        (string, string)[] alternates = [.. week.Displays.Where(display => display.Alternate is not null)
            .Select(display => (display.Id, display.Name))];
        (string, string)[] kits = [.. week.Kits.Select(kit => (kit.Id, kit.Name))];
        (string, string)[] items = [.. week.Kits.SelectMany(kit => kit.Lines).Select(line => line.Item).Distinct()
            .Select(item => (item, item))];
        (string, string)[] skills = [.. week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal).Select(skill => (skill, skill))];
        ChangeKind[] all =
        [
            new("personNight", "One more person in a night",
                [Choice("night", "Night of", nights), Choice("skill", "Skill", skills), Number("level", "Level, 1 to 3"),
                    new("keyholder", "Has the keys", "boolean", [("", "no"), ("true", "yes")])]),
            new("window", "A night opens or closes at another time",
                [Choice("night", "Night of", nights), Time("opens", "Opens"), Time("closes", "Closes")]),
            new("absence", "Somebody cannot come",
                [Choice("person", "Who", [.. week.Crew.Select(member => (member.Id, member.Name))]),
                    Choice("night", "Night of", nights)]),
            new("keyholder", "One more person has the keys", [Choice("night", "Night of", nights)]),
            new("kit", "A kit comes at another time",
                [Choice("kit", "Kit", kits), Time("eta", "It comes; empty: nobody knows when") with { Empty = "null" }]),
            new("complete", "Missing pieces are delivered",
                [Choice("kit", "Kit", kits), Choice("item", "Item", items), Time("by", "By")]),
            new("settle", "Go on without missing pieces", [Choice("kit", "Kit", kits), Choice("item", "Item", items)]),
            new("leaveOut", "A display is left out", [Choice("display", "Display", displays)]),
            new("alternate", "The alternate of a display is built", [Choice("display", "Display", alternates)]),
            new("minutes", "A task takes another time", [Choice("task", "Task", tasks), Number("minutes", "Minutes")]),
            new("due", "A task is due in another night", [Choice("task", "Task", tasks), Choice("night", "Night of", nights)]),
            new("room", "A zone has room for another number of people",
                [Choice("zone", "Zone", [.. week.Store.Zones.Select(zone => (zone.Id, zone.Name))]),
                    Number("maxPeople", "Most people at once")]),
            new("equipment", "Another number of pieces of equipment",
                [Choice("equipment", "Equipment", [.. week.Store.Equipment.Select(item => (item.Id, item.Id))]),
                    Number("count", "How many")]),
            new("launch", "Another launch", [Time("launch", "Everything is ready by")]),
        ];
        return [.. all.Where(kind => kind.Fields.All(field => field.Type != "choice" || field.Options.Count > 0))];
    }

    /// <summary>A change as the fields of its form say it.</summary>
    /// <param name="valueOf">What was typed in a field; null or empty: nothing.</param>
    public static JsonObject Read(ChangeKind kind, Func<string, string?> valueOf)
    {
        var change = new JsonObject { ["kind"] = kind.Kind };
        foreach (var field in kind.Fields)
            if (valueOf(field.Name) is { Length: > 0 } text)
                change[field.Name] = field.Type switch
                {
                    "number" when int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture,
                        out var number) => number,
                    "boolean" when text is "true" or "false" => text == "true",
                    _ => text,
                };
            else if (field.Empty is not null) change[field.Name] = null;
        return change;
    }

    private static ChangeField Choice(string name, string label, IReadOnlyList<(string, string)> options) =>
        new(name, label, "choice", options);

    private static ChangeField Number(string name, string label) => new(name, label, "number", NoOptions);

    private static ChangeField Time(string name, string label) => new(name, label, "datetime-local", NoOptions);
}
