using System.Xml.Linq;
using static SetWeek.Service.Pages.Charts.Svg;

namespace SetWeek.Service.Pages.Charts;

/// <summary>One night on the wall chart.</summary>
internal static class WallBand
{
    public static XElement Of(NightLayout night, double top, double head, double row, double minute, double side, double left)
    {
        var x = (int at) => left + (at - night.Range.From) * minute;
        var (right, bottom) = (x(night.Range.To), top + head + night.ByPerson.Sum(lane => lane.Rows) * row);
        var group = Svg.Of("g").With(
            Label(side, top + head - 2, 4.5, TextFit.Line(night.Name, left - side - 2, 4.5), isBold: true));
        group.Add(night.Hours.Select(hour => Line(x(hour.Minute), top + head, x(hour.Minute), bottom, 0.25, Rule)));
        group.Add(Hours(night, top + head - 1, x));
        foreach (var (index, ban) in night.Bans.Index())
        {
            var (from, to, y0) = (x(ban.Span.From), x(ban.Span.To), top + 2.9 * index);
            group.Add(Label(Math.Min(from + 1, right - TextFit.Width(ban.Text, 2.5)), y0 + 2.4, 2.5, ban.Text, isBold: true),
                Svg.Of("path", ("fill", "none"), ("stroke", Ink), ("stroke-width", 0.4),
                    ("d", FormattableString.Invariant($"M{from:0.##} {y0 + 4.2:0.##} v-1.2 H{to:0.##}"))));
        }
        foreach (var (index, kit) in night.Kits.Index())
            group.Add(Label(x(kit.Minute), top + 2.4 + 2.9 * (night.Bans.Count + index), 2.5, $"▼ {kit.Text} in", isBold: true));
        foreach (var edge in new[] { night.Window.From, night.Window.To })
            group.Add(Line(x(edge) - 0.4, top + head - 3, x(edge) - 0.4, bottom, 0.3), Line(x(edge) + 0.4, top + head - 3,
                x(edge) + 0.4, bottom, 0.3));
        var y = top + head;
        foreach (var lane in night.ByPerson)
        {
            group.Add(LaneOf(lane, y, row, x, side, left, right));
            y += row * lane.Rows;
        }
        return group;
    }

    /// <summary>Times, as many as there is room for.</summary>
    private static IEnumerable<XElement> Hours(NightLayout night, double y, Func<int, double> x)
    {
        var free = double.MinValue;
        foreach (var hour in night.Hours.Where(hour => hour.Minute < night.Range.To))
        {
            if (x(hour.Minute) < free) continue;
            free = x(hour.Minute) + TextFit.Width(hour.Text, 3.1) + 2;
            yield return Label(x(hour.Minute) + 0.8, y, 3.1, hour.Text, isBold: true);
        }
    }

    private static XElement LaneOf(Lane lane, double top, double row, Func<int, double> x, double side, double left, double right)
    {
        var middle = top + row / 2;
        var group = Svg.Of("g").With(Line(side, top, right, top, 0.2, Rule));
        var size = Math.Min(3.3, row * 0.62);
        var note = Math.Min(size * 0.85, 17 / Math.Max(1, TextFit.Width(lane.Note, 1)));
        group.Add(Label(side, middle + size / 3, size, TextFit.Line(lane.HasKeys ? $"{lane.Name}, keys" : lane.Name,
            left - side - 19, size), isBold: true));
        group.Add(Label(left - 1.4, middle + size / 3, note, lane.Note, anchor: "end"));
        if (lane.Shift is { } shift)
        {
            foreach (var part in lane.Break is { } rest ? [shift with { To = rest.From }, shift with { From = rest.To }]
                : new[] { shift })
                foreach (var offset in lane.HasKeys ? new[] { -0.35, 0.35 } : [0.0])
                    group.Add(Line(x(part.From), middle + offset, x(part.To), middle + offset, 0.25, Soft));
            foreach (var end in new[] { shift.From, shift.To })
                group.Add(Line(x(end), middle - row / 4, x(end), middle + row / 4, 0.6));
        }
        if (lane.Break is { } pause)
            group.Add(Label((x(pause.From) + x(pause.To)) / 2, middle + 0.8, Math.Min(2.5, row / 2),
                TextFit.Line("break", x(pause.To) - x(pause.From), 2), anchor: "middle"));
        group.Add(lane.Bars.Select(bar => BarOf(bar, top + bar.Row * row, row, x)));
        return group;
    }

    private static XElement BarOf(Bar bar, double top, double row, Func<int, double> x)
    {
        var (from, width, height) = (x(bar.Span.From) + 0.2, Math.Max(0.3, x(bar.Span.To) - x(bar.Span.From) - 0.4), row - 0.7);
        var y = top + 0.35;
        var band = Math.Min(2.2, width);
        var isLow = height < 4.2;
        var (name, with) = isLow ? (height * 0.62, 0.0) : (height * 0.48, height * 0.4);
        var room = width - band - 1;
        var text = TextFit.Line(bar.NameWithin(room, name), room, name);
        var box = Box(from + band, y, width - band, height, Label(0.6, isLow ? height * 0.7 : height * 0.46, name, text,
            isBold: !bar.IsCleanDown));
        if (!isLow && text != "") box.Add(Label(0.6, height * 0.9, with, TextFit.Line(bar.With, room, with)));
        return Svg.Of("g").With(Svg.Of("title").With(bar.Title),
            Rect(from, y, width, height, Paper, Ink, bar.IsCleanDown ? 0.18 : 0.3),
            Rect(from, y, band, height, WallPatterns.Fill(bar.Pattern), Ink, 0.18), box);
    }
}
