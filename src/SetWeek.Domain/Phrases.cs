using System.Globalization;
using NodaTime;

namespace SetWeek.Domain;

/// <summary>Formats times and lists for sentences.</summary>
internal static class Phrases
{
    public static string Time(LocalDateTime time) => time.ToString("ddd d MMM, HH:mm", CultureInfo.InvariantCulture);

    public static string List(IEnumerable<string> words) => words.ToList() switch
    {
        [] => "nothing",
        [var only] => only,
        [.. var rest, var last] => $"{string.Join(", ", rest)} and {last}",
    };
}
