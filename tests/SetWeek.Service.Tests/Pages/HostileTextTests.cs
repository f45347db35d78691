using System.Xml.Linq;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>
/// Names and sentences come from users. A page must encode them, and a CSV table must not contain formulas.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class HostileTextTests(RunningService service)
{
    private const string Script = "<script>alert(1)</script>", Quotes = "\\\"><img src=x onerror=alert(2)>&amp;'",
        Formula = "=HYPERLINK(\\\"http://x.example\\\",\\\"a, b\\\")";

    [Fact]
    public async Task A_page_encodes_user_text_and_contains_no_script()
    {
        var page = await Published("text/html");
        Assert.Equal("text/html", page.ContentType);
        // The one script is the file that every page loads.
        Assert.Single(System.Text.RegularExpressions.Regex.Matches(page.Text, "(?i)<script"));
        Assert.Matches("<script type=\"module\" src=\"/assets/[0-9a-f]{16}/start.js\"></script>", page.Text);
        Assert.DoesNotContain("<img", page.Text, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;", page.Text);
        // With its void elements closed the page is well-formed XML, so no text has broken out of an attribute or element.
        var closed = System.Text.RegularExpressions.Regex.Replace(page.Text.Replace("<!doctype html>", ""), "<(meta|link) ([^>]*?) ?/?>",
            "<$1 $2/>");
        var body = XDocument.Parse(closed);
        Assert.Contains(body.Descendants("h3"), heading => heading.Value == "\"><img src=x onerror=alert(2)>&amp;'");
    }

    [Fact]
    public async Task A_page_shows_nights_crew_work_cautions_and_the_legal_note()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        var text = XDocument.Parse(System.Text.RegularExpressions.Regex.Replace(
            (await week.Lead.Get($"{Address}/plan", ("Accept", "text/html"))).Text.Replace("<!doctype html>", ""),
                "<(meta|link) ([^>]*?) ?/?>", "<$1 $2/>")).Root!.Value;
        foreach (var words in new[] { "Monday 8 March", "From 20:00 to 00:00", "Keyholder: ", "Ben Marsh", "Cleo Strand",
            "Paint the wall", "Show window", "Air the room.", "Mask the edges.", "No bare spot.", "Local law and local codes" })
            Assert.Contains(words, text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_quotes_as_RFC_4180_and_neutralises_formulas()
    {
        var table = await Published("text/csv");
        Assert.Equal("text/csv", table.ContentType);
        var lines = table.Text.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("night,from,to,person,name,skill,kind,task,stint,work,zone,offset", lines[0]);
        Assert.Contains(lines, line =>
            line.Contains("\"'=HYPERLINK(\"\"http://x.example\"\",\"\"a, b\"\")\"", StringComparison.Ordinal));
        Assert.All(lines.Skip(1).SelectMany(Cells), cell => Assert.False(cell.Length > 0 && "=+-@".Contains(cell[0]), cell));
    }

    private async Task<ApiResponse> Published(string form)
    {
        var week = await new FirstRain(service.NewChain()).Open(
            Direction.Replace("\"Paint the wall\"", $"\"{Quotes}\"").Replace("\"Air the room.\"",
                $"\"{Script}\"").Replace("\"Set the forms\"", "\"@SUM(1+1)\""),
            Opening.Replace("\"Ben Marsh\"", $"\"{Formula}\"").Replace("\"Asha Rowan\"", $"\"{Script}\""));
        await week.PlanAndPublish();
        return await ExpectStatus(200, week.Lead.Get($"{Address}/plan", ("Accept", form)));
    }

    /// <summary>RFC 4180, section 2: a quoted cell doubles its quotes.</summary>
    private static IEnumerable<string> Cells(string line) =>
        System.Text.RegularExpressions.Regex.Matches(line, "(?:^|,)(?:\"((?:[^\"]|\"\")*)\"|([^,\"]*))").Select(cell =>
            cell.Groups[1].Success ? cell.Groups[1].Value.Replace("\"\"", "\"") : cell.Groups[2].Value);
}
