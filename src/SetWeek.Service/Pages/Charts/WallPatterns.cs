using System.Xml.Linq;
using static SetWeek.Service.Pages.Charts.Svg;

namespace SetWeek.Service.Pages.Charts;

/// <summary>The patterns of the wall chart: the same as on a page, in millimetres.</summary>
internal static class WallPatterns
{
    private static readonly (string Id, double Width, double Height, string Path)[] Lines =
    [
        ("zone-0", 1.6, 1.6, "M-.3 1.9 L1.9 -.3 M-.3 .3 L.3 -.3 M1.3 1.9 L1.9 1.3"), ("zone-1", 1, 2, "M.5 0 V2"),
        ("zone-2", 2, 1.5, "M0 1.2 L1 .3 L2 1.2"), ("zone-3", 2, 0.9, "M0 .45 H2"),
        ("zone-4", 1.6, 1.6, "M0 0 L1.6 1.6 M1.6 0 L0 1.6"), ("zone-5", 1.6, 1.2, "M.2 .6 H.8"),
        ("dries", 2.4, 2.4, "M-.5 .5 L.5 -.5 M-.3 2.7 L2.7 -.3 M1.9 2.9 L2.9 1.9"),
    ];

    public static string Fill(int pattern) => $"url(#zone-{pattern % 6})";

    public static XElement All() => Of("defs").With(Lines.Select(line =>
        Of("pattern", ("id", line.Id), ("width", line.Width), ("height", line.Height), ("patternUnits", "userSpaceOnUse"))
            .With(Of("path", ("d", line.Path), ("fill", "none"), ("stroke", line.Id == "dries" ? Soft : Ink),
                ("stroke-width", line.Id == "zone-5" ? 0.6 : 0.3)))));
}
