using System.Globalization;
using System.Xml.Linq;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using static SetWeek.Service.Pages.Charts.Svg;

namespace SetWeek.Service.Pages.Charts;

/// <summary>
/// A week as one drawing to hang up: A3 landscape, a band for each night with a lane for each person, and between the bands what
/// dries and what comes during the day. All nights have one scale. A week with very many lanes is higher than A3.
/// </summary>
public static class WallChart
{
    public const string ContentType = "image/svg+xml";

    private const double Width = 420, A3 = 297, Side = 10, Left = 54, Right = 406, Top = 24, Foot = 14, Strip = 4.8;
    private const double LeastRow = 3.4, MostRow = 6.05;

    public static string Of(string title, Week week, Plan plan)
    {
        var nights = Shown(plan);
        var drawing = Drawing(title, week, plan, nights, nights);
        return $"<?xml version=\"1.0\" encoding=\"utf-8\"?>\n{drawing.ToString(SaveOptions.DisableFormatting)}";
    }

    /// <summary>
    /// The week on as many drawings as it takes for each to be no higher than A3, with one scale of time. One night that is
    /// higher stands alone and is as high as it is.
    /// </summary>
    public static IReadOnlyList<XElement> Sides(string title, Week week, Plan plan)
    {
        var nights = Shown(plan);
        var sides = new List<List<PlannedNight>> { new() };
        foreach (var night in nights)
        {
            if (sides[^1].Count > 0 && HeightOf(Drawing(title, week, plan, nights, [.. sides[^1], night])) > A3) sides.Add([]);
            sides[^1].Add(night);
        }
        return [.. sides.Select((side, index) => Drawing(
            sides.Count == 1 ? title : $"{title}, side {index + 1} of {sides.Count}", week, plan, nights, side))];
    }

    private static List<PlannedNight> Shown(Plan plan) =>
        [.. plan.Nights.Where(night => night.Work.Count > 0 || night.Shifts.Count > 0)];

    private static double HeightOf(XElement drawing) =>
        double.Parse(drawing.Attribute("height")!.Value[..^"mm".Length], CultureInfo.InvariantCulture);

    /// <param name="nights">All nights that the week shows: paint of one may still dry in another.</param>
    /// <param name="side">Those of this drawing.</param>
    private static XElement Drawing(
        string title, Week week, Plan plan, IReadOnlyList<PlannedNight> nights, IReadOnlyList<PlannedNight> side)
    {
        var layouts = side.Select(night => NightLayout.Of(week, nights, night)).ToList();
        var days = side.Zip(side.Skip(1)).Select(pair => DayBetween.Of(week, nights, pair.First, pair.Second)).ToList();
        var fixedHeight = Top + Foot + layouts.Sum(HeadOf) + days.Sum(day => StripOf(day) + 2);
        var rows = Math.Max(1, layouts.SelectMany(night => night.ByPerson).Sum(lane => lane.Rows));
        var row = Math.Clamp((A3 - fixedHeight) / rows, LeastRow, MostRow);
        var height = Math.Max(A3, fixedHeight + rows * row);
        var minute = (Right - Left)
            / nights.Select(night => NightLayout.Of(week, nights, night).Range.Minutes).DefaultIfEmpty(1).Max();
        var drawing = Svg.Of("svg", ("viewBox", FormattableString.Invariant($"0 0 {Width} {Math.Round(height, 2)}")),
            ("width", FormattableString.Invariant($"{Width}mm")),
            ("height", FormattableString.Invariant($"{Math.Round(height, 2)}mm")), ("role", "img"), ("aria-labelledby", "t d"),
            ("font-family", "Archivo, 'Arial Narrow', 'Liberation Sans Narrow', Arial, sans-serif"))
            .With(Svg.Of("title", ("id", "t")).With($"{title}: wall chart"),
                Svg.Of("desc", ("id", "d")).With($"The {layouts.Count} nights of the week, a lane for each person. "
                    + "The page of the plan says the same in words."),
                WallPatterns.All(), Rect(0, 0, Width, height, Paper), Header(title, week, plan));
        var y = Top;
        foreach (var (index, night) in layouts.Index())
        {
            drawing.Add(WallBand.Of(night, y, HeadOf(night), row, minute, Side, Left));
            y += HeadOf(night) + night.ByPerson.Sum(lane => lane.Rows) * row;
            if (index == days.Count) break;
            drawing.Add(Day(days[index], y + 1));
            y += StripOf(days[index]) + 2;
        }
        drawing.Add(Legend(layouts, height));
        return drawing;
    }

    /// <summary>Height of the name, the bans and the hours of a night.</summary>
    private static double HeadOf(NightLayout night) => 4.8 + 2.9 * Math.Max(1, night.Bans.Count + night.Kits.Count);

    private static double StripOf(DayBetween day) => Strip * day.Rows;

    private static XElement Header(string title, Week week, Plan plan)
    {
        var words = new WeekLabels(week);
        var left = plan.LeftOut.Count == 0 ? "Nothing is left out."
            : $"Left out: {WeekLabels.Join([.. plan.LeftOut.Select(words.Display)])}.";
        var ready = $"Everything must be ready by {WeekLabels.Day(week.Launch)}, {WeekLabels.Time(week.Launch)}.";
        return Svg.Of("g").With(
            Label(Side, 16, 7.4, TextFit.Line(title, 220, 7.4), isBold: true),
            Label(Width - Side, 12.4, 3.5, ready, anchor: "end"),
            Label(Width - Side, 16.8, 3.5, TextFit.Line($"{left} Times are those of {week.Store.TimeZone}.", 190, 3.5),
                anchor: "end"),
            Line(Side, 19.2, Width - Side, 19.2, 1), Line(Side, 20.6, Width - Side, 20.6, 0.3));
    }

    private static XElement Day(DayBetween day, double top)
    {
        var x = (int minute) => Left + minute * (Right - Left) / Math.Max(1, day.Length);
        var group = Svg.Of("g").With(Label(Side, top + 3.4, 2.7, "the day between"),
            Rect(Left, top, Right - Left, StripOf(day), Tray));
        foreach (var item in day.Items)
        {
            var y = top + item.Row * Strip;
            var room = TextFit.Width(item.Text, 2.7);
            if (item.IsKit)
                group.Add(Svg.Of("path", ("fill", Ink),
                    ("d", FormattableString.Invariant($"M{x(item.Span.From) - 1:0.##} {y + 1.2:0.##} h2 l-1 2.2 z"))));
            else group.Add(Rect(x(item.Span.From), y + 0.4, x(item.Span.To) - x(item.Span.From), Strip - 0.8, "url(#dries)"));
            group.Add(Label(Math.Max(Left + 1, Math.Min(x(item.Span.To) + 1.8, Right - room - 1)), y + 3.4, 2.7, item.Text,
                isBold: true));
        }
        return group;
    }

    /// <summary>The zones of the week with their patterns, as many as there is room for, and what the other marks mean.</summary>
    private static XElement Legend(List<NightLayout> nights, double height)
    {
        var (x, y) = (Side, height - 7);
        var group = Svg.Of("g");
        var zones = nights.SelectMany(night => night.ByZone).DistinctBy(lane => (lane.Name, lane.Pattern))
            .Select(lane => (lane.Name, Fill: WallPatterns.Fill(lane.Pattern ?? 0)));
        foreach (var (name, fill) in zones.Append(("dries", "url(#dries)")))
        {
            var text = TextFit.Line(name, 40, 2.8);
            if (x + 10 + TextFit.Width(text, 2.8) > 300) continue;
            group.Add(Rect(x, y - 2.6, 7, 3.2, fill, Ink, 0.2), Label(x + 8.5, y, 2.8, text));
            x += 14 + TextFit.Width(text, 2.8);
        }
        return group.With(Line(x, y - 1.3, x + 8, y - 1.3, 0.25), Line(x, y - 0.7, x + 8, y - 0.7, 0.25),
            Label(x + 9.5, y, 2.8, "has the keys; nothing planned"),
            Label(Width - Side, y, 2.8, "Whoever sees a danger stops the work. Local law and local codes come first.",
                isBold: true, anchor: "end"));
    }
}
