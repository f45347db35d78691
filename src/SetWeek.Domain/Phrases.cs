using System.Globalization;
using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain;

/// <summary>Formats times and lists for sentences.</summary>
internal static class Phrases
{
    public static string Time(LocalDateTime time) => time.ToString("ddd d MMM, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"the night of Mon 8 Mar": people know a night by its day.</summary>
    public static string Night(Night night) =>
        $"the night of {night.Opens.ToString("ddd d MMM", CultureInfo.InvariantCulture)}";

    /// <summary>The same by id; the id itself of a night that the week does not have.</summary>
    public static string Night(Week week, string id) => week.Nights.FirstOrDefault(night => night.Id == id) is { } night
        ? Night(night) : $"the night {id}";

    /// <summary>"“Forms”"; the id of a kit that the week does not have.</summary>
    public static string Kit(Week week, string id) => Named(week.Kits.FirstOrDefault(kit => kit.Id == id)?.Name, id);

    /// <summary>"“Painted wall”"; the id of a display that the week does not have.</summary>
    public static string Display(Week week, string id) =>
        Named(week.Displays.FirstOrDefault(display => display.Id == id)?.Name, id);

    /// <summary>"“Paint the wall”"; the id of a task that the week does not have.</summary>
    public static string Task(Week week, string id) => Named(week.Tasks.FirstOrDefault(task => task.Id == id)?.Name, id);

    /// <summary>"“Paint the wall” (part 1 of 2)", for a task with several stints.</summary>
    public static string Stint(Week week, string id, int stint) => Task(week, id)
        + (week.Tasks.FirstOrDefault(task => task.Id == id) is { Stints: > 1 } task ? $" (part {stint} of {task.Stints})" : "");

    private static string Named(string? name, string id) => name is null ? id : $"“{name}”";

    /// <summary>A phrase at the start of a sentence.</summary>
    public static string Capitalised(string phrase) => char.ToUpperInvariant(phrase[0]) + phrase[1..];

    public static string List(IEnumerable<string> words) => words.ToList() switch
    {
        [] => "nothing",
        [var only] => only,
        [.. var rest, var last] => $"{string.Join(", ", rest)} and {last}",
    };
}
