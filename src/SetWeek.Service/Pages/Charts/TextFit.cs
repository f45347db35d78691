using System.Globalization;

namespace SetWeek.Service.Pages.Charts;

/// <summary>
/// Shortens text to a width before it is drawn. A browser measures text only once it is there, so widths are estimated from
/// classes of characters of a narrow sans serif face; the drawing clips what is wider still.
/// </summary>
public static class TextFit
{
    /// <summary>Estimated width in units of <paramref name="size"/>, which is the size of the face.</summary>
    public static double Width(string text, double size) => size * text.EnumerateRunes().Sum(Em);

    /// <summary>
    /// The text on at most so many lines; the last ends in an ellipsis if some is left out. Empty if nothing fits.
    /// </summary>
    public static IReadOnlyList<string> Lines(string text, double width, double size, int most)
    {
        var lines = new List<string>();
        var rest = text.Trim();
        while (rest.Length > 0 && lines.Count < most)
        {
            if (Width(rest, size) <= width)
            {
                lines.Add(rest);
                return lines;
            }
            var end = lines.Count == most - 1 ? -1 : LastSpaceWithin(rest, width, size);
            if (end <= 0) return Shortened(rest, width, size) is { } cut ? [.. lines, cut] : lines;
            lines.Add(rest[..end]);
            rest = rest[(end + 1)..].TrimStart();
        }
        return lines;
    }

    /// <summary>One line; empty if not even a few characters fit.</summary>
    public static string Line(string text, double width, double size) =>
        Lines(text, width, size, 1) is [var line] ? line : "";

    private static int LastSpaceWithin(string text, double width, double size)
    {
        var end = -1;
        for (var space = text.IndexOf(' '); space > 0; space = text.IndexOf(' ', space + 1))
        {
            if (Width(text[..space], size) > width) break;
            end = space;
        }
        return end;
    }

    /// <summary>Cut between text elements, so no combining mark is separated from its letter. Null under three of them.</summary>
    private static string? Shortened(string text, double width, double size)
    {
        var starts = StringInfo.ParseCombiningCharacters(text);
        for (var kept = starts.Length - 1; kept >= 3; kept--)
        {
            var cut = text[..starts[kept]].TrimEnd() + "…";
            if (Width(cut, size) <= width) return cut;
        }
        return null;
    }

    private static double Em(System.Text.Rune rune) => rune.Value switch
    {
        _ when "ijltfrI.,:;'’|() ".Contains(rune.ToString(), StringComparison.Ordinal) => 0.27,
        _ when "mwMW…@%".Contains(rune.ToString(), StringComparison.Ordinal) => 0.72,
        < 0x80 when char.IsUpper((char)rune.Value) => 0.54,
        < 0x250 => 0.44,
        < 0x2E80 => 0.55,
        _ => 1.0, // ideographs are as wide as they are high
    };
}
