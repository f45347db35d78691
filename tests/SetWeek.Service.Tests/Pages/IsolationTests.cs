using System.Text;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;
using SetWeek.Service.Pages.Html;

namespace SetWeek.Service.Tests.Pages;

/// <summary>
/// Names from right to left keep to themselves in a page. A browser test of RightToLeftTests sees where they stand.
/// </summary>
public sealed class IsolationTests
{
    private const string Hebrew = "נועה בן־שחר", Arabic = "عبد الرحمن";

    /// <summary>A kit, with a figure, a full stop, a comma and brackets.</summary>
    private const string Kit = "ערכה 2, ב. (6 יח')";

    /// <summary>In Adlam, whose letters are beyond U+FFFF.</summary>
    private const string Adlam = "𞤀𞤣𞤢 𞤂𞤢𞤥";

    [Theory]
    [InlineData($"<p>101, {Hebrew}, 20:15</p>", $"<p>101, <bdi>{Hebrew}</bdi>, 20:15</p>")]
    [InlineData($"<p>({Hebrew}, {Arabic} &amp; Ben)</p>", $"<p>(<bdi>{Hebrew}</bdi>, <bdi>{Arabic}</bdi> &amp; Ben)</p>")]
    [InlineData($"<b>{Hebrew}</b> 4", $"<b><bdi>{Hebrew}</bdi></b> 4")]
    [InlineData($"<p>{Adlam}, 4</p>", $"<p><bdi>{Adlam}</bdi>, 4</p>")]
    [InlineData($"<input dir=\"auto\"><p>{Hebrew}</p>", $"<input dir=\"auto\"><p><bdi>{Hebrew}</bdi></p>")]
    [InlineData("<p>נועה 20:15 יוסי</p>", "<p><bdi>נועה</bdi> 20:15 <bdi>יוסי</bdi></p>")] // two names, or one
    public void A_name_within_a_line_is_isolated(string page, string isolated) =>
        Assert.Equal(Sent(isolated), Isolation.Of(Sent(page)));

    [Theory]
    [InlineData($"<p>“{Kit}” came.</p>", $"<p>“<bdi>{Kit}</bdi>” came.</p>")]
    [InlineData($"<p>“Vases”, “{Kit}” and “{Arabic}”</p>", $"<p>“Vases”, “<bdi>{Kit}</bdi>” and “<bdi>{Arabic}</bdi>”</p>")]
    [InlineData($"<p>“RAL 5002 {Arabic}”</p>", $"<p>“<bdi>RAL 5002 {Arabic}</bdi>”</p>")]
    [InlineData($"<p>{Hebrew}: “{Kit}”</p>", $"<p><bdi>{Hebrew}</bdi>: “<bdi>{Kit}</bdi>”</p>")]
    [InlineData($"<p>“A {Hebrew}</p><p>”</p>", $"<p>“A <bdi>{Hebrew}</bdi></p><p>”</p>")] // without an end
    public void A_name_in_quotation_marks_is_isolated_whole(string page, string isolated) =>
        Assert.Equal(Sent(isolated), Isolation.Of(Sent(page)));

    [Theory]
    [InlineData("<p>Ben Marsh, 20:15 – 22:00, “the vase”</p>")]
    [InlineData($"<p title=\"{Hebrew}\"><bdi>{Hebrew}</bdi></p>")]
    [InlineData($"<title>{Hebrew}</title><option value=\"1\">{Hebrew} 4</option><textarea dir=\"auto\">{Hebrew}</textarea>")]
    [InlineData($"<li class=\"a\" dir=\"auto\">{Hebrew}. {Arabic}</li><svg><text>{Hebrew}</text></svg>")]
    [InlineData($"<dd dir=\"auto\"><b>{Hebrew}</b> 2</dd><h2 dir=\"auto\">{Arabic}</h2><p dir=\"auto\">{Hebrew}</p>")]
    public void What_has_a_direction_of_its_own_or_no_elements_is_left_as_it_is(string page) =>
        Assert.Equal(Sent(page), Isolation.Of(Sent(page)));

    /// <summary>
    /// Two million characters that look like a name, a quotation or an element for as long as possible. In proportion to the
    /// square of the length each would take hours.
    /// </summary>
    [Theory]
    [InlineData("<p>א", " -\"'\u2066", "א</p>", 1)] // one name without an end
    [InlineData("<p>א", " -\"'\u2066", "x</p>", 1)] // no name follows
    [InlineData("<p>“", "א ", "x</p>", 1)] // a quotation without an end
    [InlineData("<p>", "“א", "x</p>", 400_000)] // quotations within quotations
    [InlineData("<p>א</p>", "<p dir=\"auto\">", "x", 1)] // elements without an end
    [InlineData("<p>א</p>", "<", "x", 1)] // tags without an end
    public void A_long_hostile_page_takes_time_in_proportion_to_its_length(string begins, string repeated, string ends, int names)
    {
        begins = Sent(begins);
        repeated = Sent(repeated);
        var page = new StringBuilder(begins);
        for (var length = 0; length < 2_000_000; length += repeated.Length) page.Append(repeated);
        var text = page.Append(Sent(ends)).ToString();
        var isolated = Isolation.Of(text);
        Assert.Equal(text, isolated.Replace("<bdi>", "").Replace("</bdi>", ""));
        Assert.InRange(isolated.Split("<bdi>").Length - 1, names == 1 ? 1 : 100_000, names);
    }

    /// <summary>As the renderer sends it: with a character reference for every character outside ASCII and for quotes.</summary>
    private static string Sent(string page) => string.Concat(Regex.Split(page, "(<[^>]*>|&amp;)").Select(part =>
        part.StartsWith('<') && part.EndsWith('>') || part == "&amp;"
            ? Regex.Replace(part, @"[^\x00-\x7F]", outside => HtmlEncoder.Default.Encode(outside.Value))
            : part == "<" ? part : HtmlEncoder.Default.Encode(part)));
}
