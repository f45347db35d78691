using System.Collections.Frozen;
using System.Reflection;
using System.Text;

namespace SetWeek.Service.Printing.Faces;

/// <summary>
/// The embedded typefaces, and how text is set in them. Archivo has Latin letters; letters that it lacks are taken from Literata,
/// which has Greek, Cyrillic, Hebrew and Arabic ones too. A character that neither has is printed as an empty square, so that it
/// does not vanish.
/// </summary>
public static class Typefaces
{
    /// <summary>Millimetres in a point, the unit of sizes: an inch of 25.4 mm has 72 points.</summary>
    public const double Point = 25.4 / 72;

    private static readonly Rune Square = new(0x25A1), Space = new(' ');

    private static readonly FrozenDictionary<Face, Typeface> All = new Dictionary<Face, string>
    {
        [Face.Text] = "archivo-condensed-regular", [Face.TextBold] = "archivo-condensed-bold",
        [Face.Heading] = "literata-bold", [Face.HeadingRegular] = "literata-regular",
    }.ToFrozenDictionary(face => face.Key, face => new Typeface(Read(face.Value)));

    public static Typeface Of(Face face) => All[face];

    /// <summary>Whether every character of the text is printed as itself.</summary>
    public static bool CanPrint(string text) => Characters(text)
        .All(character => All[Face.Text].Has(character) || All[Face.HeadingRegular].Has(character));

    /// <summary>The text as runs of one typeface each, with its letters in the order in which they are read.</summary>
    public static IReadOnlyList<(Face Face, string Text)> Runs(string text, Face face)
    {
        if (text.Length > 0 && All[face].WidthOf(text) is not null) return [(face, text)];
        var runs = new List<(Face Face, StringBuilder Text)>();
        IReadOnlyList<Rune> characters = [.. Characters(text)];
        foreach (var (at, character) in characters.Index())
        {
            var (used, printed) = (face, character);
            if (!All[face].Has(character) || IsWithinRightToLeft(characters, at)) (used, printed) = Fallback(character, face);
            if (runs.Count == 0 || runs[^1].Face != used) runs.Add((used, new StringBuilder()));
            runs[^1].Text.Append(printed.ToString());
        }
        return [.. runs.Select(run => (run.Face, run.Text.ToString()))];
    }

    /// <summary>The width of the text in millimetres.</summary>
    /// <param name="size">The size of the face in points.</param>
    public static double Width(string text, Face face, double size) => size * Point * (All[face].WidthOf(text)
        ?? Runs(text, face).Sum(run => run.Text.EnumerateRunes().Sum(All[run.Face].WidthOf)));

    /// <summary>
    /// Whether it is a space or a sign beside letters that are read from right to left. It stays in one run with them, because a
    /// run is what is drawn in that order.
    /// </summary>
    private static bool IsWithinRightToLeft(IReadOnlyList<Rune> characters, int at)
    {
        if (Rune.IsLetterOrDigit(characters[at])) return false;
        var before = characters.Take(at).LastOrDefault(Rune.IsLetterOrDigit);
        var after = characters.Skip(at).FirstOrDefault(Rune.IsLetterOrDigit);
        return RightToLeft.Is(after) && (at == 0 || RightToLeft.Is(before))
            || characters[at].Value == '-' && at == characters.Count - 1 && RightToLeft.Is(before)
            || WithinBracket(characters, at) is { Count: > 0 } within && within.All(RightToLeft.Is);
    }

    /// <summary>
    /// The letters and digits between a bracket and the other one of its pair; none if it has no other one here.
    /// </summary>
    private static IReadOnlyList<Rune> WithinBracket(IReadOnlyList<Rune> characters, int at)
    {
        const string first = "([{«", last = ")]}»";
        var text = characters[at].ToString();
        var (other, rest) = first.IndexOf(text, StringComparison.Ordinal) is var opening and >= 0
            ? (last[opening], characters.Skip(at + 1).ToList())
            : last.IndexOf(text, StringComparison.Ordinal) is var closing and >= 0
                ? (first[closing], characters.Take(at).Reverse().ToList()) : (' ', []);
        var end = rest.IndexOf(new Rune(other));
        return end < 0 ? [] : [.. rest.Take(end).Where(Rune.IsLetterOrDigit)];
    }

    private static (Face Face, Rune Character) Fallback(Rune character, Face face)
    {
        var other = face is Face.TextBold or Face.Heading ? Face.Heading : Face.HeadingRegular;
        return All[other].Has(character) ? (other, character) : (face, Square);
    }

    /// <summary>
    /// Letters and their marks are composed, as the typefaces have them. A mark that no letter took up is a character of its own.
    /// Controls and marks of direction are not printed.
    /// </summary>
    private static IEnumerable<Rune> Characters(string text) => RightToLeft.Joined(text.Normalize(NormalizationForm.FormC)
        .EnumerateRunes().Select(character => Rune.IsWhiteSpace(character) ? Space : character)
        .Where(character => Rune.GetUnicodeCategory(character) is not (System.Globalization.UnicodeCategory.Control
            or System.Globalization.UnicodeCategory.Format)));

    private static byte[] Read(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"printing/{name}.ttf")!;
        using var content = new MemoryStream();
        stream.CopyTo(content);
        return content.ToArray();
    }
}
