using System.Globalization;
using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Layout;

/// <summary>Breaks text into lines of a width, as wide as its typefaces make it.</summary>
public static class TextFlow
{
    /// <summary>Sums of widths that should be equal differ by less, in millimetres.</summary>
    private const double Tolerance = 1e-6;

    /// <summary>Text of one typeface on a line.</summary>
    public sealed record Run(double X, Face Face, string Text);

    private sealed record Word(string Text, Face Face, bool AfterSpace);

    /// <param name="width">In millimetres. A word that is wider is broken between its characters.</param>
    /// <param name="size">In points.</param>
    /// <returns>The runs of each line; no line for a text without a word.</returns>
    public static IReadOnlyList<IReadOnlyList<Run>> Lines(
        IEnumerable<(string Text, Face Face)> parts, double width, double size)
    {
        var (lines, line, x) = (new List<IReadOnlyList<Run>>(), new List<Run>(), 0.0);
        foreach (var word in parts.SelectMany(part => Words(part.Text, part.Face))
            .SelectMany(word => Typefaces.Width(word.Text, word.Face, size) <= width ? [word] : Broken(word, width, size)))
        {
            var text = word.AfterSpace && line.Count > 0 ? $" {word.Text}" : word.Text;
            if (line.Count > 0 && x + Typefaces.Width(text, word.Face, size) > width + Tolerance)
            {
                lines.Add(Joined(line));
                (line, x, text) = ([], 0, word.Text);
            }
            foreach (var run in Typefaces.Runs(text, word.Face))
            {
                line.Add(new Run(x, run.Face, run.Text));
                x += Typefaces.Width(run.Text, run.Face, size);
            }
        }
        if (line.Count > 0) lines.Add(Joined(line));
        return lines;
    }

    /// <summary>Words, and their parts after a dash or a slash.</summary>
    private static IEnumerable<Word> Words(string text, Face face)
    {
        var (start, afterSpace) = (0, false);
        for (var at = 0; at <= text.Length; at++)
        {
            var isSpace = at < text.Length && char.IsWhiteSpace(text[at]) && text[at] != '\u00a0';
            var isBreak = at > start && at < text.Length && "–—-/".Contains(text[at - 1]) && char.IsLetterOrDigit(text[at]);
            if (at < text.Length && !isSpace && !isBreak) continue;
            if (at > start) yield return new Word(text[start..at], face, afterSpace);
            afterSpace = isSpace || (at == start && afterSpace);
            start = isSpace ? at + 1 : at;
        }
    }

    private static IEnumerable<Word> Broken(Word word, double width, double size)
    {
        var (part, afterSpace) = ("", word.AfterSpace);
        foreach (var element in Elements(word.Text))
        {
            if (part.Length > 0 && Typefaces.Width(part + element, word.Face, size) > width)
            {
                yield return new Word(part, word.Face, afterSpace);
                (part, afterSpace) = ("", false);
            }
            part += element;
        }
        if (part.Length > 0) yield return new Word(part, word.Face, afterSpace);
    }

    private static IEnumerable<string> Elements(string text)
    {
        for (var elements = StringInfo.GetTextElementEnumerator(text); elements.MoveNext();)
            yield return elements.GetTextElement();
    }

    /// <summary>Neighbours of one typeface as one run.</summary>
    private static List<Run> Joined(List<Run> runs)
    {
        var joined = new List<Run>();
        foreach (var run in runs)
            if (joined.Count == 0 || joined[^1].Face != run.Face) joined.Add(run);
            else joined[^1] = joined[^1] with { Text = joined[^1].Text + run.Text };
        return joined;
    }
}
