using System.Globalization;
using SetWeek.Model.Time;

namespace SetWeek.Service.Pages.Charts;

/// <summary>The measures of a drawn night, in its own units (pixels on a screen).</summary>
public sealed class ChartScale
{
    /// <summary>Width of the names of the lanes, and of the margin at the right.</summary>
    public const double Names = 172, Margin = 12;

    /// <summary>Width of a usual night, and bounds for the width of an hour in short and long ones.</summary>
    private const double Usual = 1180, LeastHour = 56, MostHour = 190, Most = 12_000;

    private static readonly int[] HourSteps = [1, 2, 3, 6, 12, 24, 48, 168];

    private readonly Span range;
    private readonly double minute;
    private readonly double[] tops;

    public ChartScale(NightLayout night, IReadOnlyList<Lane> lanes)
    {
        range = night.Range;
        minute = Math.Min(Math.Clamp(Usual / range.Minutes, LeastHour / 60, MostHour / 60), Most / range.Minutes);
        IsCompact = lanes.Sum(lane => lane.Rows) > 24;
        Row = IsCompact ? 26 : 50;
        Head = 15 * (night.Bans.Count + night.Kits.Count) + 30;
        tops = [Head, .. lanes.Select(lane => Row * lane.Rows + Gap)];
        for (var lane = 1; lane < tops.Length; lane++) tops[lane] += tops[lane - 1];
        var text = night.Hours.Select(hour => TextFit.Width(hour.Text, 12.5)).DefaultIfEmpty().Max() + 8;
        HourStep = HourSteps.First(step => step == HourSteps[^1] || step * 60 * minute >= text);
    }

    /// <summary>Many lanes: the rows are low and hold one line of text.</summary>
    public bool IsCompact { get; }

    public double Row { get; }

    public double Gap => IsCompact ? 6 : 10;

    /// <summary>Height of bans, kits and hours above the lanes.</summary>
    public double Head { get; }

    /// <summary>Every how many hours a time is written, so that the times do not run into each other.</summary>
    public int HourStep { get; }

    public double Left => Names;
    public double Right => X(range.To);
    public double Width => Right + Margin;
    public double Bottom => tops[^1];

    public double X(int at) => Names + (at - range.From) * minute;

    public double Length(Span span) => span.Minutes * minute;

    public double Top(int lane) => tops[lane];

    /// <summary>The line of a shift, in the first row of a lane.</summary>
    public double Middle(int lane) => Top(lane) + (Row + Gap) / 2;

    public ChartBox Box(int lane, Span span, int row) => new(X(span.From) + 1, Top(lane) + Gap / 2 + row * Row,
        Math.Max(1, Length(span) - 2), Row - (IsCompact ? 2 : 3));

    /// <summary>A number as SVG reads it.</summary>
    public static string N(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
}
