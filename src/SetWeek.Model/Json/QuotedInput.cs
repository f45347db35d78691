using System.Globalization;
using System.Text;

namespace SetWeek.Model.Json;

/// <summary>
/// Other people's text inside our sentences: quoted, clipped, and with nothing left that can steer a terminal or a page.
/// </summary>
internal static class QuotedInput
{
    private const int MaxLength = 60;

    public static string Of(string text)
    {
        var echo = new StringBuilder("\"");
        var taken = 0;
        foreach (var rune in text.EnumerateRunes())
        {
            if (taken++ == MaxLength) return echo.Append("…\"").ToString();
            echo.Append(IsSafe(rune) ? rune.ToString() : rune.Value <= 0xFFFF ? $"\\u{rune.Value:x4}" : $"\\u{{{rune.Value:x}}}");
        }
        return echo.Append('"').ToString();
    }

    /// <summary>Angle brackets too: a sentence may end up in a page.</summary>
    private static bool IsSafe(Rune rune) => rune.Value is not ('"' or '\\' or '<' or '>') && Rune.GetUnicodeCategory(rune) is not
        (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse
        or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);
}
