using System.Net;
using System.Text;
using System.Text.Encodings.Web;

namespace SetWeek.Service.Pages.Html;

/// <summary>
/// Isolates what is written from right to left within a line from left to right, so that a number or a time beside a name
/// keeps its place (HTML Living Standard, the bdi element; Unicode Standard Annex 9, rule N1 says what happens without). Every
/// page goes through it: none can forget a name.
/// </summary>
/// <remarks>
/// It is for names within sentences (<see cref="IsolatedNames"/>). Whatever was typed and is shown alone has a bdi element or
/// dir="auto" where its component writes it. An element with dir="auto" takes its direction from its own text and not from a bdi
/// element within, so it is left as it is up to the next end of an element of its name: it has none of its name within. So is
/// what can have no elements, and the text of drawings.
/// </remarks>
public static class Isolation
{
    private static readonly HashSet<string> LeftAlone = ["bdi", "svg", "textarea", "title", "option", "script", "style"];

    /// <param name="html">A page, in which every character from right to left is a character reference.</param>
    public static string Of(string html)
    {
        StringBuilder? page = null; // most pages have nothing to isolate
        var (at, copied) = (0, 0);
        while (at < html.Length)
        {
            var tag = html.IndexOf('<', at) is var next and >= 0 ? next : html.Length;
            if (html.AsSpan(at, tag - at).Contains("&#x", StringComparison.Ordinal)
                && IsolatedNames.Split(WebUtility.HtmlDecode(html[at..tag])) is { Count: > 0 } parts)
            {
                page = (page ?? new StringBuilder(html.Length)).Append(html, copied, at - copied);
                foreach (var part in parts) Write(page, part);
                copied = tag;
            }
            at = tag == html.Length ? tag : EndOf(html, tag);
        }
        return page is null ? html : page.Append(html, copied, html.Length - copied).ToString();
    }

    private static void Write(StringBuilder page, IsolatedNames.Part part)
    {
        var text = HtmlEncoder.Default.Encode(part.Text);
        page.Append(part.IsName ? $"<bdi>{text}</bdi>" : text);
    }

    /// <summary>Where a tag ends, or the element that it begins if that is left alone.</summary>
    private static int EndOf(string html, int tag)
    {
        var end = html.IndexOf('>', tag) is var close and >= 0 ? close + 1 : html.Length;
        var written = html.AsSpan(tag, end - tag);
        var length = 1;
        while (length < written.Length && char.IsAsciiLetterOrDigit(written[length])) length++;
        var name = written[1..length].ToString();
        if (name is "" or "input" || !(LeftAlone.Contains(name) || written.Contains(" dir=\"auto\"", StringComparison.Ordinal)))
            return end;
        return html.IndexOf($"</{name}>", end, StringComparison.Ordinal) is var last and >= 0
            ? last + name.Length + 3 : html.Length;
    }
}
