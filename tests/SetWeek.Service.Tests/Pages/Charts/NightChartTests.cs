using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Pages.Weeks;
using static SetWeek.Service.Tests.Pages.Charts.ChartWeek;

namespace SetWeek.Service.Tests.Pages.Charts;

/// <summary>The chart as drawn on the page of a week.</summary>
public sealed class NightChartTests
{
    [Fact]
    public async Task Bars_lie_where_their_time_is()
    {
        var charts = Charts(await Page(Spring, Planned));
        Assert.Equal(4, charts.Count); // two nights, each by person and by zone
        var layout = NightLayout.Of(Spring, Planned, Saturday);
        var bars = layout.ByPerson.SelectMany(lane => lane.Bars).ToList();
        var drawn = Bars(charts[0]);
        Assert.Equal(bars.Count, drawn.Count);
        // Two bars fix the scale; all others have to lie on it, to the pixel.
        var (first, last) = (bars.MinBy(bar => bar.Span.From)!, bars.MaxBy(bar => bar.Span.From)!);
        double X(Bar bar) => drawn[bars.IndexOf(bar)].X;
        var minute = (X(last) - X(first)) / (last.Span.From - first.Span.From);
        Assert.All(bars.Zip(drawn), pair =>
        {
            Assert.Equal(X(first) + (pair.First.Span.From - first.Span.From) * minute, pair.Second.X, 0.2);
            Assert.Equal(pair.First.Span.Minutes * minute - 2, pair.Second.Width, 0.2);
        });
        // Each has its box, and its title where the pointer is on it.
        Assert.Equal(drawn.Select(bar => (bar.X, bar.Y)).Order(), Starts(charts[0], "bar").Order());
        Assert.Equal(bars.Select(bar => bar.Title), drawn.Select(bar => bar.Title));
        var secondLane = Starts(charts[0], "lr")[1].Y;
        // A double line before the break and one after it.
        Assert.Equal(4, Starts(charts[0], "road").Count(road => road.Y < secondLane));
    }

    [Fact]
    public async Task A_chart_has_a_name_a_description_and_a_switch_without_script_or_style()
    {
        var page = await Page(Spring, Planned);
        Assert.DoesNotMatch("<style|<script(?! type=\"module\" src=)| style=", page);
        foreach (var chart in Charts(page))
        {
            Assert.Equal("img", chart.Attribute("role")?.Value);
            var labels = chart.Attribute("aria-labelledby")!.Value.Split(' ');
            Assert.Equal(labels, chart.Elements().Take(2).Select(element => element.Attribute("id")!.Value));
        }
        var ids = Regex.Matches(page, " id=\"([^\"]+)\"").Select(match => match.Groups[1].Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        foreach (var label in Regex.Matches(page, " for=\"([^\"]+)\"").Select(match => match.Groups[1].Value))
            Assert.Contains(label, ids);
        foreach (var fill in Regex.Matches(page, @"url\(#([^)]+)\)").Select(match => match.Groups[1].Value))
            Assert.Contains(fill, ids);
    }

    [Fact]
    public async Task The_list_comes_first_and_says_what_dries_and_what_comes()
    {
        var page = WebUtility.HtmlDecode(await Page(Spring, Planned));
        var chart = page.IndexOf("<svg class=\"chart\"", StringComparison.Ordinal);
        Assert.InRange(page.IndexOf("<h3><bdi>Paint the wall</bdi></h3>", StringComparison.Ordinal), 0, chart);
        Assert.Contains("<li>Back wall: dries until Sunday 22:30.</li>", page);
        Assert.Contains("<li>Back wall: closed until 03:00 (+01:00).</li>", page);
        Assert.Contains("Kits that come in the night: Props.", page);
    }

    /// <summary>The limits of a week (docs/formats.md): 60 people with long names, and bars of five minutes.</summary>
    [Fact]
    public async Task Sixty_people_with_long_names_stay_in_their_boxes()
    {
        var name = string.Concat(Enumerable.Repeat("Wilhelmina-Maria ", 6));
        var week = Spring with { Crew = [.. Enumerable.Range(0, 60).Select(index => Member($"c{index}", $"{name}{index}"))] };
        var night = Saturday with
        {
            Shifts = [.. week.Crew.Select(member => new PlannedShift(member.Id, At(27, 22, 0), At(28, 0, 30)))],
            Work = [.. week.Crew.SelectMany((member, index) => Enumerable.Range(0, 4).Select(piece => Piece("clear",
                At(27, 22, 5 * piece + index % 3), At(27, 22, 5 * piece + 5 + index % 3), member.Id)))],
        };
        var chart = Charts(await Page(week, [night]))[0];
        Assert.Equal(240, Bars(chart).Count);
        var labels = chart.Descendants().Where(element => Class(element) == "ln").ToList();
        Assert.Equal(60, labels.Count);
        Assert.All(labels, label =>
        {
            Assert.EndsWith("…", label.Value.Trim());
            Assert.True(TextFit.Width(label.Value.Trim(), 15) <= ChartScale.Names);
        });
        Assert.True(double.Parse(chart.Attribute("height")!.Value, CultureInfo.InvariantCulture) < 2100);
    }

    [Theory]
    [InlineData("Build the stepped shelf", 400, 2, "Build the stepped shelf")]
    [InlineData("Build the stepped shelf", 75, 2, "Build the|stepped shelf")]
    [InlineData("Build the stepped shelf", 50, 2, "Build the|stepped…")]
    [InlineData("Build the stepped shelf", 10, 2, "")]
    [InlineData("", 100, 2, "")]
    public void Text_is_wrapped_cut_or_dropped(string text, double width, int most, string expected)
    {
        var lines = TextFit.Lines(text, width, 12.5, most);
        Assert.Equal(expected, string.Join('|', lines));
        Assert.All(lines, line => Assert.True(TextFit.Width(line, 12.5) <= width));
    }

    private static Task<string> Page(Week week, IReadOnlyList<PlannedNight> nights) =>
        PageRenderer.Render<WeekPage, WeekPage.Sheet>(new("First Rain", week,
            new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = nights }, "published", ShowsPay: false));

    private static List<XElement> Charts(string page) =>
        [.. XDocument.Parse(Regex.Replace(page.Replace("<!doctype html>", ""), "<(meta|link) ([^>]*?) ?/?>", "<$1 $2/>"))
            .Descendants("svg").Where(svg => Class(svg) == "chart")];

    private sealed record DrawnBar(double X, double Y, double Width, string Title);

    private static List<DrawnBar> Bars(XElement chart) =>
    [
        .. chart.Descendants("svg").Where(svg => svg.Element("rect") is not null).Select(svg => new DrawnBar(
            Number(svg, "x"), Number(svg, "y"), Number(svg, "width"), svg.Element("title")!.Value)),
    ];

    /// <summary>Where the lines and boxes of a look begin.</summary>
    private static List<(double X, double Y)> Starts(XElement chart, string look) =>
    [
        .. chart.Elements("path").Where(path => Class(path)?.Split(' ')[0] == look)
            .SelectMany(path => Regex.Matches(path.Attribute("d")!.Value, "M([-.0-9]+) ([-.0-9]+)"))
            .Select(start => (Number(start.Groups[1].Value), Number(start.Groups[2].Value))),
    ];

    private static string? Class(XElement element) => element.Attribute("class")?.Value;

    private static double Number(XElement element, string name) => Number(element.Attribute(name)!.Value);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
