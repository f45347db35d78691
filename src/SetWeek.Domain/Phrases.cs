using System.Globalization;
using NodaTime;

namespace SetWeek.Domain;

/// <summary>How sentences put times and lists.</summary>
internal static class Phrases
{
    public static string Time(LocalDateTime time) => time.ToString("ddd d MMM, HH:mm", CultureInfo.InvariantCulture);

    public static string List(IEnumerable<string> words) => words.ToList() switch
    {
        [] => "nothing",
        [var one] => one,
        [.. var rest, var last] => $"{string.Join(", ", rest)} and {last}",
    };
}
