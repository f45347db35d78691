using SetWeek.Model.Time;

namespace SetWeek.Service.Pages.Charts;

/// <summary>
/// The lines and boxes of a drawn night, one path for each look. With an element for each, a night of 60 people would have
/// thousands more, and its page would open later.
/// </summary>
internal sealed class ChartPaths(NightLayout night, IReadOnlyList<Lane> lanes, ChartScale scale)
{
    /// <summary>The zone of a bar in a person's lane is a band of its pattern along the bar's top.</summary>
    private const double BandHeight = 6;

    private readonly (Lane Lane, Bar Bar, ChartBox Box)[] bars =
    [
        .. lanes.SelectMany((lane, index) => lane.Bars.Select(bar => (lane, bar, scale.Box(index, bar.Span, bar.Row)))),
    ];

    public string Hours => string.Concat(night.Hours.Select(hour => Upright(scale.X(hour.Minute), scale.Head, scale.Bottom)));

    /// <summary>The night opens and closes at an upright pair of lines.</summary>
    public string Edges
    {
        get
        {
            var (opens, closes) = (scale.X(night.Window.From), scale.X(night.Window.To));
            return string.Concat(new[] { opens - 3, opens, closes, closes + 3 }
                .Select(x => Upright(x, scale.Head - 16, scale.Bottom)));
        }
    }

    /// <summary>The lines above, between and below the lanes.</summary>
    public string Rules =>
        string.Concat(lanes.Select((_, index) => scale.Top(index)).Append(scale.Bottom).Select(y => Level(0, scale.Right, y)));

    /// <summary>Each shift without its break, as a line; double if the person has the keys.</summary>
    public string Roads => string.Concat(
        from entry in lanes.Index()
        from stretch in Stretches(entry.Item)
        from offset in entry.Item.HasKeys ? (double[])[-1.5, 1.5] : [0]
        select Level(scale.X(stretch.From), scale.X(stretch.To), scale.Middle(entry.Index) + offset));

    public string ShiftEnds => string.Concat(
        from entry in lanes.Index()
        where entry.Item.Shift is not null
        from end in (int[])[entry.Item.Shift!.Value.From, entry.Item.Shift.Value.To]
        select Upright(scale.X(end), scale.Middle(entry.Index) - 10, scale.Middle(entry.Index) + 10));

    /// <param name="cleanDown">Whether the bars of the clean-downs are meant, or those of the stints.</param>
    public string Bars(bool cleanDown) =>
        string.Concat(bars.Where(entry => entry.Bar.IsCleanDown == cleanDown).Select(entry => Rectangle(entry.Box)));

    /// <summary>By the pattern of the zone.</summary>
    public IEnumerable<(int Pattern, string Path)> Bands =>
        bars.Where(entry => HasBand(entry.Lane)).GroupBy(entry => entry.Bar.Pattern, entry => entry.Box)
            .Select(bands => (bands.Key, string.Concat(bands.Select(box => Rectangle(box with { Height = BandHeight })))));

    /// <summary>The line under each band.</summary>
    public string BandEnds => string.Concat(bars.Where(entry => HasBand(entry.Lane))
        .Select(entry => Level(entry.Box.X, entry.Box.X + entry.Box.Width, entry.Box.Y + BandHeight)));

    public string Tight => string.Concat(bars.Where(entry => entry.Bar.IsTight)
        .Select(entry => Rectangle(entry.Box with { Width = Math.Min(5, entry.Box.Width) })));

    public string Changed => string.Concat(bars.Where(entry => entry.Bar.IsChanged)
        .Select(entry => Level(entry.Box.X, entry.Box.X + entry.Box.Width, entry.Box.Y + entry.Box.Height + 1)));

    /// <summary>How much of the bars of a lane is a band.</summary>
    public static double BandOf(Lane lane) => HasBand(lane) ? BandHeight : 0;

    private static bool HasBand(Lane lane) => lane.Pattern is null;

    private static IEnumerable<Span> Stretches(Lane lane) => (lane.Shift, lane.Break) switch
    {
        (null, _) => [],
        ({ } shift, null) => [shift],
        ({ } shift, { } pause) => [shift with { To = pause.From }, shift with { From = pause.To }],
    };

    private static string Upright(double x, double from, double to) => $"M{N(x)} {N(from)}V{N(to)}";

    private static string Level(double from, double to, double y) => $"M{N(from)} {N(y)}H{N(to)}";

    private static string Rectangle(ChartBox box) =>
        $"M{N(box.X)} {N(box.Y)}h{N(box.Width)}v{N(box.Height)}h{N(-box.Width)}z";

    private static string N(double value) => ChartScale.N(value);
}

/// <summary>Where something is drawn, in the units of the drawing.</summary>
public readonly record struct ChartBox(double X, double Y, double Width, double Height);
