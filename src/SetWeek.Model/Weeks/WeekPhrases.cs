using System.Globalization;
using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>The words that sentences about a week share.</summary>
internal static class WeekPhrases
{
    /// <summary>"Thu 11 Mar 14:00".</summary>
    public static string Time(LocalDateTime time) => time.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"14:00".</summary>
    public static string Clock(LocalDateTime time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"the night of Thu 11 Mar": ids are for programs.</summary>
    public static string Night(Week week, string night) =>
        $"the night of {week.Nights.First(one => one.Id == night).Opens.ToString("ddd d MMM", CultureInfo.InvariantCulture)}";

    /// <summary>The same, where a sentence begins with it.</summary>
    public static string CapitalisedNight(Week week, string night) => $"The{Night(week, night)[3..]}";

    /// <summary>A task by name, with its display where another is called the same.</summary>
    public static string Task(Week week, WeekTask task) =>
        week.Tasks.Count(other => other.Name == task.Name) == 1 ? $"“{task.Name}”"
            : $"“{task.Name}” ({week.Displays.First(display => display.Id == task.Display).Name})";

    public static string Task(Week week, string task) => Task(week, week.Tasks.First(one => one.Id == task));

    /// <summary>"1 person", "3 people".</summary>
    public static string People(int count) => count == 1 ? "1 person" : $"{count} people";

    /// <summary>No longer than a plan file may have it: names can be long, and many.</summary>
    public static string Truncated(string sentence) =>
        sentence.Length <= WeekLimits.SentenceLength ? sentence : $"{sentence[..(WeekLimits.SentenceLength - 1)]}…";

    /// <summary>"a, b and 3 more".</summary>
    public static string ListFirst(IReadOnlyList<string> names, int maxShown = 3) => names.Count <= maxShown + 1 ? List(names)
        : $"{string.Join(", ", names.Take(maxShown))} and {names.Count - maxShown} more";

    /// <summary>"a, b and c".</summary>
    public static string List(IReadOnlyList<string> names) =>
        names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}";
}
