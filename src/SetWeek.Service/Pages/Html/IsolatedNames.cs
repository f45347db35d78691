using System.Text.RegularExpressions;

namespace SetWeek.Service.Pages.Html;

/// <summary>Finds in a sentence the names that are written from right to left.</summary>
/// <remarks>
/// A sentence has the names of tasks, kits and displays, and what somebody typed, in quotation marks: such a name is one whatever
/// is in it. Without them, as the names of people and areas stand, it goes on across spaces, hyphens and apostrophes. A comma
/// stands between two names. So may a figure, a full stop or a bracket: a name with one is found in pieces, which are then read
/// from left to right.
/// </remarks>
internal static class IsolatedNames
{
    /// <summary>A piece of a sentence.</summary>
    public readonly record struct Part(string Text, bool IsName);

    /// <summary>
    /// A letter of the blocks of The Unicode Standard that are written from right to left, or its first half beyond U+FFFF.
    /// </summary>
    private const string Letter = @"[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFE\uD802\uD803\uD83A\uD83B]";

    /// <summary>What may stand within a name. U+2000 to U+206F has dashes, apostrophes and joiners.</summary>
    private const string Between = @"[ '""\-\u2000-\u201B\u201E-\u206F]";

    /// <summary>Without backtracking, so that a sentence takes time in proportion to its length, whoever wrote it.</summary>
    private static readonly Regex Name = new(
        $@"“(?<name>[^“”]*{Letter}[^“”]*)”|(?<name>{Letter}[\uDC00-\uDFFF]?(?:{Between}*{Letter}[\uDC00-\uDFFF]?)*)",
        RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture);

    /// <summary>The sentence in parts; none if no name in it is from right to left.</summary>
    public static IReadOnlyList<Part> Split(string sentence)
    {
        var (parts, at) = (new List<Part>(), 0);
        foreach (Match found in Name.Matches(sentence))
        {
            var name = found.Groups["name"];
            if (name.Index > at) parts.Add(new(sentence[at..name.Index], false));
            parts.Add(new(name.Value, true));
            at = name.Index + name.Length;
        }
        if (parts.Count > 0 && at < sentence.Length) parts.Add(new(sentence[at..], false));
        return parts;
    }
}
