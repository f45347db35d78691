using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using NodaTime;
using PdfSharp.Drawing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Drawing;

/// <summary>
/// The wall chart as a PDF of sides of A3, landscape. It draws the SVG elements of the drawing for browsers, of which it knows
/// those that <see cref="WallChart"/> uses.
/// </summary>
public static partial class WallPdf
{
    private const double Width = 420, Height = 297;

    /// <param name="made">The time that the file states as that of its making.</param>
    public static byte[] Of(string title, Week week, Plan plan, Instant made)
    {
        using var file = new PdfFile($"{title}: wall chart", made);
        foreach (var drawing in WallChart.Sides(title, Printable(week), plan))
        {
            var patterns = drawing.Descendants().Where(element => element.Name.LocalName == "pattern")
                .ToDictionary(pattern => $"url(#{pattern.Attribute("id")!.Value})");
            var box = drawing.Attribute("viewBox")!.Value.Split(' ').Select(Number).ToList();
            // One night with very many people is higher than the paper: then it is drawn smaller.
            var scale = Math.Min(1, Height / box[3]);
            file.Add(Width, Height, canvas => Draw(canvas.Scaled(scale), drawing, patterns));
        }
        return file.Bytes();
    }

    /// <summary>A name that cannot be printed wholly has its id beside it.</summary>
    private static Week Printable(Week week) => week with
    {
        Crew = [.. week.Crew.Select(member => Typefaces.CanPrint(member.Name) ? member
            : member with { Name = $"{member.Name} ({member.Id})" })],
    };

    private static void Draw(PdfCanvas canvas, XElement parent, Dictionary<string, XElement> patterns)
    {
        foreach (var element in parent.Elements())
        {
            double at(string name) => Number(element.Attribute(name)?.Value ?? "0");
            switch (element.Name.LocalName)
            {
                case "title" or "desc" or "defs":
                    break;
                case "g":
                    Draw(canvas, element, patterns);
                    break;
                case "svg":
                    canvas.Clipped(at("x"), at("y"), at("width"), at("height"), at("x"), at("y"),
                        () => Draw(canvas, element, patterns));
                    break;
                case "line":
                    canvas.Line(at("x1"), at("y1"), at("x2"), at("y2"), at("stroke-width"), Color(element, "stroke")!.Value);
                    break;
                case "rect":
                    if (patterns.TryGetValue(element.Attribute("fill")!.Value, out var pattern))
                        Fill(canvas, at("x"), at("y"), at("width"), at("height"), pattern);
                    canvas.Rectangle(at("x"), at("y"), at("width"), at("height"), Color(element, "fill"),
                        Color(element, "stroke"), at("stroke-width"));
                    break;
                case "path":
                    canvas.Path(Lines(element.Attribute("d")!.Value), Color(element, "fill"), Color(element, "stroke"),
                        at("stroke-width"));
                    break;
                case "text":
                    Text(canvas, element, at("x"), at("y"), at("font-size"));
                    break;
                case var name:
                    throw new ArgumentException($"The wall chart has an element that is not drawn: {name}.", nameof(parent));
            }
        }
    }

    private static void Text(PdfCanvas canvas, XElement text, double x, double y, double size)
    {
        var face = text.Attribute("font-weight")!.Value == "400" ? Face.Text : Face.TextBold;
        var width = Typefaces.Width(text.Value, face, size / Typefaces.Point);
        canvas.Text(x - text.Attribute("text-anchor")!.Value switch { "end" => width, "middle" => width / 2, _ => 0 }, y, face,
            size, text.Value, XColors.Black);
    }

    /// <summary>Repeats the pattern's path over the rectangle. All rectangles share the origin of the drawing.</summary>
    private static void Fill(PdfCanvas canvas, double x, double y, double width, double height, XElement pattern)
    {
        var (stepX, stepY) = (Number(pattern.Attribute("width")!.Value), Number(pattern.Attribute("height")!.Value));
        var path = pattern.Elements().Single();
        var lines = Lines(path.Attribute("d")!.Value).ToList();
        canvas.Clipped(x, y, width, height, 0, 0, () =>
        {
            for (var column = Math.Floor(x / stepX); column * stepX < x + width; column++)
                for (var row = Math.Floor(y / stepY); row * stepY < y + height; row++)
                    canvas.Path(lines.Select(line => (IReadOnlyList<(double, double)>)[.. line.Select(point =>
                            (point.X + column * stepX, point.Y + row * stepY))]), null, Color(path, "stroke"),
                        Number(path.Attribute("stroke-width")!.Value));
        });
    }

    /// <summary>The lines of a path of straight segments (SVG 2, section 9.3): M, L, H, V, l, h, v and z.</summary>
    private static IEnumerable<IReadOnlyList<(double X, double Y)>> Lines(string path)
    {
        var (lines, x, y) = (new List<List<(double X, double Y)>>(), 0.0, 0.0);
        foreach (Match part in Segment().Matches(path))
        {
            var numbers = Numeral().Matches(part.Groups[2].Value).Select(number => Number(number.Value)).ToArray();
            (x, y) = (part.Groups[1].Value, numbers) switch
            {
                ("M" or "L", [var toX, var toY]) => (toX, toY),
                ("l", [var byX, var byY]) => (x + byX, y + byY),
                ("H", [var toX]) => (toX, y),
                ("h", [var byX]) => (x + byX, y),
                ("V", [var toY]) => (x, toY),
                ("v", [var byY]) => (x, y + byY),
                ("z", []) => lines[^1][0],
                _ => throw new ArgumentException($"The segment {part.Value} of a path is not drawn.", nameof(path)),
            };
            if (part.Groups[1].Value == "M") lines.Add([]);
            lines[^1].Add((x, y));
        }
        return lines;
    }

    private static XColor? Color(XElement element, string attribute) => element.Attribute(attribute)?.Value switch
    {
        ['#', var shade, _, _] => Grey(shade),
        null or "none" => null,
        var pattern when pattern.StartsWith("url", StringComparison.Ordinal) => null,
        var other => throw new ArgumentException($"The colour {other} is not drawn.", nameof(attribute)),
    };

    /// <summary>The drawing is black, white and grey: one digit for all three colours.</summary>
    private static XColor Grey(char shade)
    {
        var level = 17 * int.Parse(shade.ToString(), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return XColor.FromArgb(level, level, level);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"([A-Za-z])([^A-Za-z]*)")]
    private static partial Regex Segment();

    [GeneratedRegex(@"-?\d*\.?\d+")]
    private static partial Regex Numeral();
}
