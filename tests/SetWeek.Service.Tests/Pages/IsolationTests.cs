using System.Text;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;
using SetWeek.Service.Pages.Html;

namespace SetWeek.Service.Tests.Pages;

/// <summary>Names from right to left keep to themselves in a page. A browser test of RightToLeftTests sees where they stand.</summary>
public sealed class IsolationTests
{
    private const string Hebrew = "נועה בן־שחר", Arabic = "عبد الرحمن";

    [Theory]
    [InlineData($"<p>101, {Hebrew}, 20:15</p>", $"<p>101, <bdi>{Hebrew}</bdi>, 20:15</p>")]
    [InlineData($"<p>({Hebrew}, {Arabic}; Ben)</p>", $"<p>(<bdi>{Hebrew}, {Arabic}</bdi>; Ben)</p>")]
    [InlineData($"<b>{Hebrew}</b> 4", $"<b><bdi>{Hebrew}</bdi></b> 4")]
    [InlineData($"<input dir=\"auto\"><p>{Hebrew}</p>", $"<input dir=\"auto\"><p><bdi>{Hebrew}</bdi></p>")]
    [InlineData("<p>נועה 20:15 יוסי</p>", "<p><bdi>נועה</bdi> 20:15 <bdi>יוסי</bdi></p>")] // two names, or one
    public void A_name_within_a_line_is_isolated(string page, string isolated) =>
        Assert.Equal(Sent(isolated), Isolation.Of(Sent(page)));

    [Theory]
    [InlineData("<p>Ben Marsh, 20:15 – 22:00</p>")]
    [InlineData($"<p title=\"{Hebrew}\"><bdi>{Hebrew}</bdi></p>")]
    [InlineData($"<title>{Hebrew}</title><option value=\"1\">{Hebrew} 4</option><textarea dir=\"auto\">{Hebrew}</textarea>")]
    [InlineData($"<li class=\"a\" dir=\"auto\">{Hebrew}. {Arabic}</li><svg><text>{Hebrew}</text></svg>")]
    [InlineData($"<dd dir=\"auto\"><b>{Hebrew}</b> 2</dd><h2 dir=\"auto\">{Arabic}</h2><p dir=\"auto\">{Hebrew}</p>")]
    public void What_has_a_direction_of_its_own_or_no_elements_is_left_as_it_is(string page) =>
        Assert.Equal(Sent(page), Isolation.Of(Sent(page)));

    /// <summary>
    /// Two million characters that look like names and their commas for as long as possible. In proportion to the square of the
    /// length each match would take hours, and the pattern gives up after seconds.
    /// </summary>
    [Theory]
    [InlineData("&#x5D0;", " ,-&quot;&#x27;&#x2066;", "", 1)] // one name without an end
    [InlineData("&#x5D0;", " ,-&quot;&#x27;&#x2066;", "x", 0)] // no name follows the commas
    [InlineData("&#x5D0; ,&#x2066", "&#x2066", "&#x2066;", 0)] // no commas either
    public void A_long_hostile_page_takes_time_in_proportion_to_its_length(string begins, string repeated, string ends, int names)
    {
        var page = new StringBuilder("<p>").Append(begins);
        while (page.Length < 2_000_000) page.Append(repeated).Append(names == 0 ? "" : begins);
        page.Append(ends).Append("</p>");
        var isolated = Isolation.Of(page.ToString());
        Assert.Equal(page.ToString(), isolated.Replace("<bdi>", "").Replace("</bdi>", ""));
        Assert.Equal(names == 0 ? "<p><bdi>&#x5D0;</bdi>" : "<p><bdi>&#x5D0; ,", isolated[..(names == 0 ? 21 : 17)]);
        Assert.Equal(1, isolated.Split("<bdi>").Length - 1);
    }

    /// <summary>As the renderer sends it: with a character reference for every character outside ASCII.</summary>
    private static string Sent(string page) =>
        Regex.Replace(page, @"[^\x00-\x7F]", outside => HtmlEncoder.Default.Encode(outside.Value));
}
