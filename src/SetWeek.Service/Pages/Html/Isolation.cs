using System.Text.RegularExpressions;

namespace SetWeek.Service.Pages.Html;

/// <summary>
/// Isolates what is written from right to left within a line from left to right, so that a number or a time beside a name
/// keeps its place (HTML Living Standard, the bdi element; Unicode Standard Annex 9, rule N1 says what happens without). Every
/// page goes through it: none can forget a name.
/// </summary>
/// <remarks>
/// It is a net for what is within sentences. Spaces, commas and hyphens within such a text belong to it. A figure, a full stop
/// or a bracket may as well stand between two names, so a text with one is isolated in pieces, which are read from left to
/// right: whatever was typed and is shown alone has a bdi element or dir="auto" where its component writes it. Names joined by
/// commas are isolated as one: a comma may as well belong to a name or a sentence, whose parts would then stand in the wrong
/// order. An element with dir="auto" takes its direction from its own text and not from a bdi element within, so it is left as
/// it is up to the next end of an element of its name: it has none of its name within. So is what can have no elements, and the
/// text of drawings.
/// </remarks>
public static partial class Isolation
{
    /// <param name="html">A page, in which every character outside ASCII is a character reference.</param>
    public static string Of(string html) => !Letter().IsMatch(html) ? html : Text().Replace(html, found =>
        found.Groups["run"] is { Success: true } run ? $"<bdi>{run.Value}</bdi>" : found.Value);

    /// <summary>The blocks of The Unicode Standard that have letters from right to left.</summary>
    private const string RightToLeft = "&#x(?:59[0-9A-F]|5[A-F][0-9A-F]|[678][0-9A-F]{2}|FB1[D-F]|FB[2-9A-F][0-9A-F]"
        + "|F[CD][0-9A-F]{2}|FE[7-9A-F][0-9A-F]|10[89A-F][0-9A-F]{2}|1E[89A-F][0-9A-F]{2});";

    /// <summary>General punctuation (U+2000 to U+206F) has dashes, quotation marks and joiners.</summary>
    private const string Between = "(?:[ ,-]|&quot;|&#x27;|&#x20[0-6][0-9A-F];)";

    private const string LeftAlone = "<(bdi|svg|textarea|title|option|script|style)\\b.*?</\\1>"
        + "|<(?!input\\b)([a-z][a-z0-9]*)\\b[^>]* dir=\"auto\"[^>]*>.*?</\\2>|<[^>]*>";

    /// <summary>
    /// In milliseconds. A letter and what stands between letters begin differently, so that a page takes time in proportion to
    /// its length. A mistake in the pattern ends a request and does not hold up the others.
    /// </summary>
    private const int MostTime = 10_000;

    [GeneratedRegex(RightToLeft)]
    private static partial Regex Letter();

    [GeneratedRegex($"{LeftAlone}|(?<run>{RightToLeft}(?:{Between}*{RightToLeft})*)", RegexOptions.Singleline, MostTime)]
    private static partial Regex Text();
}
