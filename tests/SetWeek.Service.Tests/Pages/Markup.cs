using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace SetWeek.Service.Tests.Pages;

/// <summary>
/// Reads a page as XML, with its void elements closed and its attributes without value given one. That it can be read shows that
/// no text has broken out of an attribute or an element.
/// </summary>
public static partial class Markup
{
    public static XElement Of(string page) => XDocument.Parse(Tag().Replace(
        page.Replace("<!doctype html>", "", StringComparison.Ordinal), tag => Closed(WithValues(tag.Value)))).Root!;

    /// <summary>The text of the page, with every run of white space as one space.</summary>
    public static string TextOf(string page) => Spaces().Replace(string.Join(' ', Of(page).DescendantNodes().OfType<XText>()
        .Select(text => text.Value)), " ");

    /// <summary>A page on which its reader can change nothing, and sign out.</summary>
    public static void AssertNoForm(string page) =>
        Assert.DoesNotMatch("<form(?=[^>]* method=\"post\")(?![^>]* action=\"/sign-out\")", page);

    private static string WithValues(string tag) => Attribute().Replace(tag,
        part => part.Groups[1].Success ? $" {part.Groups[1].Value}=\"\"" : part.Value);

    private static string Closed(string tag) => Void().IsMatch(tag) ? $"{tag.TrimEnd('>').TrimEnd('/')}/>" : tag;

    [GeneratedRegex("<[a-z][^<>]*>")]
    private static partial Regex Tag();

    /// <summary>A value in quotes, or the name of an attribute that has none.</summary>
    [GeneratedRegex("""\"[^"]*\"|\s([a-z-]+)(?=[\s/>])""")]
    private static partial Regex Attribute();

    [GeneratedRegex("^<(meta|link|input|img|br|col|hr)\\b")]
    private static partial Regex Void();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
