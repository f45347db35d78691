using System.Collections.Frozen;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace SetWeek.Service.Printing.Faces;

/// <summary>
/// Hebrew and Arabic letters for a writer that draws characters from left to right, one after the other. Text on paper is of
/// names and short sentences, so this is the part of the Unicode Bidirectional Algorithm (UAX #9) that they need: a line has the
/// direction of Latin, words of these letters that follow each other are drawn from right to left with the brackets among them,
/// and numbers among them keep their order.
/// </summary>
internal static partial class RightToLeft
{
    /// <summary>
    /// By letter, or lam with alef: the forms in which it is drawn alone, at the end of a word, at its start and within. A letter
    /// that does not join the next one has the first two, and one that joins none the first (The Unicode Standard, Arabic
    /// Presentation Forms A and B: the forms of a letter follow each other there, in this order).
    /// </summary>
    private static readonly FrozenDictionary<string, IReadOnlyList<string>> Forms =
        new[] { (First: 0xFB50, Last: 0xFBE7), (First: 0xFBFC, Last: 0xFBFF), (First: 0xFE80, Last: 0xFEFC) }
        .SelectMany(block => Enumerable.Range(block.First, block.Last - block.First + 1)).Select(code => $"{(char)code}")
        .Where(form => char.IsLetter(form[0])).GroupBy(form => form.Normalize(NormalizationForm.FormKC))
        .ToFrozenDictionary(forms => forms.Key, forms => (IReadOnlyList<string>)[.. forms]);

    /// <summary>Each with its mirror image beside it.</summary>
    private const string Brackets = "()[]{}<>«»";

    /// <summary>A letter of each direction.</summary>
    private const char Latin = 'a', Other = 'א';

    public static bool Is(Rune character) => Letter().IsMatch(character.ToString());

    /// <summary>
    /// The letters in the forms in which they join their neighbours, without vowel marks, which the typefaces lack.
    /// </summary>
    public static IEnumerable<Rune> Joined(IEnumerable<Rune> characters)
    {
        var units = new List<string>();
        foreach (var character in characters)
        {
            if (Is(character) && Rune.GetUnicodeCategory(character) == UnicodeCategory.NonSpacingMark) continue;
            if (units.Count > 0 && Forms.ContainsKey(units[^1] + character)) units[^1] += character;
            else units.Add(character.ToString());
        }
        return units.SelectMany((unit, index) => FormOf(units, unit, index).EnumerateRunes());
    }

    private static string FormOf(List<string> units, string unit, int index)
    {
        if (!Forms.TryGetValue(unit, out var forms)) return unit;
        var (fromBefore, toNext) = (JoinsNext(units, index - 1), JoinsNext(units, index) && JoinsBefore(units, index + 1));
        return forms[(fromBefore && forms.Count > 1 ? 1 : 0) + (toNext ? 2 : 0)];
    }

    private static bool JoinsNext(List<string> units, int index) =>
        index >= 0 && Forms.GetValueOrDefault(units[index])?.Count == 4;

    private static bool JoinsBefore(List<string> units, int index) =>
        index < units.Count && Forms.GetValueOrDefault(units[index])?.Count > 1;

    /// <summary>Text with its words of these letters in the order in which they are drawn from left to right.</summary>
    public static string Drawn(string text)
    {
        var drawn = new StringBuilder();
        foreach (Match words in Words().Matches(WithSidesOfBrackets(text)))
        {
            drawn.Append(text, drawn.Length, words.Index - drawn.Length);
            drawn.Append(Number().Replace(Reversed(text.Substring(words.Index, words.Length)), number => Reversed(number.Value)));
        }
        return drawn.Append(text, drawn.Length, text.Length - drawn.Length).ToString();
    }

    /// <summary>
    /// The text with a letter of its direction in place of each bracket of a pair that has letters within (UAX #9, rule N0). The
    /// pair has the direction of Latin if a Latin letter is within, or if the last letter before it is none of these.
    /// </summary>
    private static string WithSidesOfBrackets(string text)
    {
        var sides = text.ToCharArray();
        foreach (var (first, last) in Pairs(text).Order())
        {
            var within = Sides(first + 1, last);
            if (within.Count == 0) continue;
            sides[first] = sides[last] = within.Contains(Latin) || Sides(0, first) is not [.., Other] ? Latin : Other;
        }
        return new string(sides);

        List<char> Sides(int from, int to) => [.. sides[from..to].Where(char.IsLetter)
            .Select(letter => Letter().IsMatch($"{letter}") ? Other : Latin)];
    }

    private static IEnumerable<(int First, int Last)> Pairs(string text)
    {
        var open = new Stack<int>();
        foreach (var (index, character) in text.Index())
        {
            if ("([{".Contains(character)) open.Push(index);
            else if (")]}".Contains(character) && open.Any(start => Mirrored(text[start]) == character))
            {
                while (Mirrored(text[open.Peek()]) != character) open.Pop();
                yield return (open.Pop(), index);
            }
        }
    }

    /// <summary>A bracket that is read from right to left is drawn as its mirror image (UAX #9, rule L4).</summary>
    private static string Reversed(string text) => new([.. text.Reverse().Select(Mirrored)]);

    private static char Mirrored(char character) =>
        Brackets.IndexOf(character) is var index and >= 0 ? Brackets[index ^ 1] : character;

    [GeneratedRegex(@"[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC]")]
    private static partial Regex Letter();

    /// <summary>From the first of these letters to the last one, and a hyphen at which a line is broken.</summary>
    [GeneratedRegex(@"[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC](?:[^\p{L}]*[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC])*-?")]
    private static partial Regex Words();

    [GeneratedRegex(@"\p{Nd}+(?:[.:,]\p{Nd}+)*")]
    private static partial Regex Number();
}
