using System.Text.RegularExpressions;

namespace SetWeek.Browser.Tests.Printing;

/// <summary>Names and sentences are looked for in a printed text as wholes.</summary>
public sealed class PrintedTextTests
{
    [Fact]
    public void A_part_of_a_longer_name_is_not_the_name()
    {
        Assert.Equal(["Form"], Missing(["Form"], "Forms\nPlatform\n"));
        Assert.Equal(["Forms"], Missing(["Forms", "Set the forms"], "Set the\nforms 4"));
        Assert.Equal([], Missing(["Forms", "Set the forms"], "1 Set the\nforms\nForms, 4"));
    }

    /// <summary>
    /// What a text does not say. A short name may be a part of a longer one: the longer ones are looked for first, and taken out.
    /// </summary>
    internal static IEnumerable<string> Missing(IEnumerable<string> said, string text)
    {
        foreach (var one in said.OrderByDescending(one => one.Length))
        {
            var rest = WholeWords(one).Replace(text, "\n");
            if (rest == text) yield return one;
            text = rest;
        }
    }

    /// <summary>
    /// Lines end elsewhere on the sheet and on the page, also after a hyphen. A sentence has a capital first. A number may follow
    /// without a space: poppler finds none where the words of a page are close.
    /// </summary>
    private static Regex WholeWords(string said) => new($@"(?<!\p{{L}}){string.Join(@"\s*",
        said.Where(letter => !char.IsWhiteSpace(letter)).Select(letter => Regex.Escape($"{letter}")))}(?!\p{{L}})",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);
}
