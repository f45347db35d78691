using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace SetWeek.Service.Tests.Pages;

/// <summary>
/// Reads a page as XML, with its void elements closed and its attributes without value given one. That it can be read shows that
/// no text has broken out of an attribute or an element.
/// </summary>
public static partial class Markup
{
    public static XElement Of(string page) => XDocument.Parse(
        Void().Replace(Bare().Replace(page.Replace("<!doctype html>", "", StringComparison.Ordinal), " $1=\"\""), "<$1$2/>")).Root!;

    /// <summary>The text of the page, with every run of white space as one space.</summary>
    public static string TextOf(string page) => Spaces().Replace(string.Join(' ', Of(page).DescendantNodes().OfType<XText>()
        .Select(text => text.Value)), " ");

    [GeneratedRegex(@"<(meta|link|input|img|br|col)((?:\s[^>]*?)?)\s*/?>")]
    private static partial Regex Void();

    [GeneratedRegex(@"(?<=<[^<>]*)\s(data-report|required|checked|selected|disabled|open|multiple|capture)(?=[\s/>])")]
    private static partial Regex Bare();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
