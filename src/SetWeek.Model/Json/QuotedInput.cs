using System.Globalization;
using System.Text;

namespace SetWeek.Model.Json;

/// <summary>
/// Quotes text from a file inside a sentence: shortened, with every character escaped that could control a terminal or that
/// nobody sees. Signs of HTML stay: a page encodes whatever it shows.
/// </summary>
internal static class QuotedInput
{
    private const int MaxLength = 60;

    /// <summary>The text in quotation marks, at most 60 characters of it.</summary>
    public static string Of(string text)
    {
        var quoted = new StringBuilder("\"");
        var taken = 0;
        foreach (var rune in text.EnumerateRunes())
        {
            if (taken++ == MaxLength) return quoted.Append("…\"").ToString();
            quoted.Append(IsSafe(rune) ? rune.ToString()
                : rune.Value <= 0xFFFF ? $"\\u{rune.Value:x4}" : $"\\u{{{rune.Value:x}}}");
        }
        return quoted.Append('"').ToString();
    }

    /// <summary>True if the character needs no escape.</summary>
    private static bool IsSafe(Rune rune) => Rune.GetUnicodeCategory(rune) is not
        (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse
        or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);
}
