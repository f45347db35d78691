using System.Globalization;
using System.Xml.Linq;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Charts.ChartWeek;

namespace SetWeek.Service.Tests.Pages.Charts;

/// <summary>The wall chart: a drawing that stands alone, and the operation that sends it.</summary>
[Collection(ServiceCollection.Name)]
public sealed class WallChartTests(RunningService service)
{
    /// <summary>Bars are drawn so much shorter than they last, in millimetres, to stay apart.</summary>
    private const double Gap = 0.4;

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <summary>ISO 216: A3 is 297 by 420 mm.</summary>
    [Fact]
    public void It_is_A3_landscape_and_needs_no_other_file()
    {
        var text = Draw(Spring, Planned);
        var drawing = XDocument.Parse(text).Root!;
        Assert.Equal(("420mm", "297mm", "0 0 420 297"), (drawing.Attribute("width")!.Value, drawing.Attribute("height")!.Value,
            drawing.Attribute("viewBox")!.Value));
        Assert.DoesNotContain("http", text.Replace(Svg.NamespaceName, ""), StringComparison.Ordinal);
        var ids = drawing.Descendants().Attributes("id").Select(id => $"url(#{id.Value})").ToHashSet();
        Assert.All(drawing.Descendants().Attributes("fill").Select(fill => fill.Value)
            .Where(fill => fill.StartsWith("url", StringComparison.Ordinal)), fill => Assert.Contains(fill, ids));
    }

    [Fact]
    public void Each_person_has_each_piece_of_work_once_and_all_nights_have_one_scale()
    {
        var bars = Bars(Draw(Spring, Planned));
        var expected = Planned.SelectMany(night => NightLayout.Of(Spring, Planned, night).ByPerson)
            .SelectMany(lane => lane.Bars).ToList();
        Assert.Equal(expected.Select(bar => bar.Title), bars.Select(bar => bar.Title));
        var minute = (bars[0].Width + Gap) / expected[0].Span.Minutes;
        Assert.All(expected.Zip(bars), pair => Assert.Equal(pair.First.Span.Minutes * minute - Gap, pair.Second.Width, 0.05));
        Assert.All(expected.Zip(bars), pair =>
            Assert.Equal(bars[0].X + (pair.First.Span.From - expected[0].Span.From) * minute, pair.Second.X, 0.05));
    }

    [Fact]
    public void The_day_between_shows_what_dries_and_which_kits_come()
    {
        var week = Spring with
        {
            Kits = [.. Spring.Kits, new("late", "Late props", new NodaTime.LocalDateTime(2027, 3, 28, 15, 0))],
        };
        var day = DayBetween.Of(week, Planned, Saturday, Sunday);
        Assert.Equal(16 * 60, day.Length); // 06:00 to 22:00
        Assert.Equal([("Back wall dries until Sunday 22:30", 0, 960), ("15:00 Late props in", 540, 540)],
            day.Items.Select(item => (item.Text, item.Span.From, item.Span.To)));
        Assert.Contains("15:00 Late props in", Draw(week, Planned), StringComparison.Ordinal);
    }

    [Fact]
    public void Names_are_text_and_a_large_week_grows_higher_than_A3()
    {
        var week = Spring with
        {
            Crew = [.. Enumerable.Range(0, 60)
                .Select(index => Member($"c{index}", $"<script>alert(1)</script>\u0001 \"{index}"))],
        };
        var night = Saturday with
        {
            Work = [.. Saturday.Work.Where(work => work.People.Count == 0)],
            Shifts = [.. week.Crew.Select(member => new PlannedShift(member.Id, At(27, 22, 0), At(28, 0, 30)))],
        };
        var drawing = XDocument.Parse(Draw(week, [night, night with { Night = "sun" }])).Root!;
        Assert.DoesNotContain(drawing.Descendants(), element => element.Name.LocalName is "script" or "style" or "foreignObject");
        Assert.True(double.Parse(drawing.Attribute("height")!.Value[..^2], CultureInfo.InvariantCulture) > 297);
    }

    [Fact]
    public async Task Everybody_of_the_store_may_hang_up_the_published_plan_and_it_shows_no_pay()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await FirstRain.ExpectStatus(404, week.Lead.Get($"{FirstRain.Address}/plan/wall-chart"));
        await week.PlanAndPublish();
        var answer = await FirstRain.ExpectStatus(200, week.Lead.Get($"{FirstRain.Address}/plan/wall-chart"));
        Assert.Equal("image/svg+xml", answer.ContentType);
        Assert.Contains("Paint the wall", XDocument.Parse(answer.Text).Root!.Value, StringComparison.Ordinal);
        Assert.DoesNotContain("£", answer.Text, StringComparison.Ordinal);
        Assert.Contains("/plan/wall-chart", (await week.Lead.Get($"{FirstRain.Address}/plan", ("Accept", "text/html"))).Text,
            StringComparison.Ordinal);
    }

    private static string Draw(Week week, IReadOnlyList<PlannedNight> nights) => WallChart.Of("First Rain at Quay", week,
        new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = nights });

    /// <summary>Title, place and width of each bar: the first rectangle of a group with a title.</summary>
    private static List<(string Title, double X, double Width)> Bars(string text) =>
        [.. XDocument.Parse(text).Root!.Descendants(Svg + "g").Where(group => group.Element(Svg + "title") is not null)
            .Select(group => (group.Element(Svg + "title")!.Value, Number(group, "x"), Number(group, "width")))];

    private static double Number(XElement group, string name) =>
        double.Parse(group.Element(Svg + "rect")!.Attribute(name)!.Value, CultureInfo.InvariantCulture);
}
