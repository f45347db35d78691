using System.Globalization;
using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>Phrases shared by sentences about a week.</summary>
internal static class WeekPhrases
{
    /// <summary>"Thu 11 Mar 14:00".</summary>
    public static string Time(LocalDateTime time) => time.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"14:00".</summary>
    public static string Clock(LocalDateTime time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"Thu 11 Mar".</summary>
    private static string Date(LocalDateTime time) => time.ToString("ddd d MMM", CultureInfo.InvariantCulture);

    /// <summary>"the night of Thu 11 Mar". Sentences name a night by its date; people do not know its id.</summary>
    public static string Night(Week week, string night) =>
        $"the night of {Date(week.Nights.First(candidate => candidate.Id == night).Opens)}";

    /// <summary>"The night of Thu 11 Mar", for the start of a sentence.</summary>
    public static string CapitalisedNight(Week week, string night) => $"The{Night(week, night)[3..]}";

    /// <summary>The task's name in quotation marks, followed by its display if another task has the same name.</summary>
    public static string Task(Week week, WeekTask task) =>
        week.Tasks.Count(other => other.Name == task.Name) == 1 ? $"“{task.Name}”"
            : $"“{task.Name}” ({week.Displays.First(display => display.Id == task.Display).Name})";

    /// <inheritdoc cref="Task(Week, WeekTask)"/>
    public static string Task(Week week, string task) => Task(week, week.Tasks.First(candidate => candidate.Id == task));

    /// <summary>"1 person", "3 people".</summary>
    public static string People(int count) => count == 1 ? "1 person" : $"{count} people";

    /// <summary>The sentence, cut to the length that a plan file allows. A sentence may list many long names.</summary>
    public static string Truncated(string sentence) =>
        sentence.Length <= WeekLimits.SentenceLength ? sentence : $"{sentence[..(WeekLimits.SentenceLength - 1)]}…";

    /// <summary>"a, b and 3 more". All names are listed if only one would be left over.</summary>
    public static string ListFirst(IReadOnlyList<string> names, int maxShown = 3) => names.Count <= maxShown + 1 ? List(names)
        : $"{string.Join(", ", names.Take(maxShown))} and {names.Count - maxShown} more";

    /// <summary>"a, b and c".</summary>
    /// <param name="names">The names.</param>
    /// <param name="conjunction">"and" or "or".</param>
    public static string List(IReadOnlyList<string> names, string conjunction = "and") =>
        names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} {conjunction} {names[^1]}";
}
