using System.Globalization;
using System.Text;
using PdfSharp.Drawing;
using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Drawing;

/// <summary>Draws on a page. All lengths, also the sizes of text, are in millimetres.</summary>
/// <param name="content">Gets all that is drawn, so that the id of the file follows from it.</param>
internal sealed class PdfCanvas(XGraphics graphics, Func<Face, double, XFont> fontOf, StringBuilder content)
{
    /// <param name="y">The line on which the letters stand.</param>
    public void Text(double x, double y, Face face, double size, string text, XColor color)
    {
        Note("text", x, y, size);
        content.Append(face).Append(text);
        foreach (var run in Typefaces.Runs(text, face))
        {
            graphics.DrawString(RightToLeft.Drawn(run.Text), fontOf(run.Face, size), new XSolidBrush(color), x, y);
            x += Typefaces.Width(run.Text, run.Face, size / Typefaces.Point);
        }
    }

    public void Line(double fromX, double fromY, double toX, double toY, double thickness, XColor color)
    {
        Note("line", fromX, fromY, toX, toY, thickness);
        graphics.DrawLine(new XPen(color, thickness), fromX, fromY, toX, toY);
    }

    public void Rectangle(double x, double y, double width, double height, XColor? fill, XColor? stroke, double thickness)
    {
        Note("rectangle", x, y, width, height, thickness);
        if (width <= 0 || height <= 0) return;
        if (fill is { } inner) graphics.DrawRectangle(new XSolidBrush(inner), x, y, width, height);
        if (stroke is { } outer) graphics.DrawRectangle(new XPen(outer, thickness), x, y, width, height);
    }

    public void Path(IEnumerable<IReadOnlyList<(double X, double Y)>> lines, XColor? fill, XColor? stroke, double thickness)
    {
        foreach (var line in lines)
        {
            XPoint[] points = [.. line.Select(point => new XPoint(point.X, point.Y))];
            foreach (var point in points) Note("path", point.X, point.Y);
            if (fill is { } inner) graphics.DrawPolygon(new XSolidBrush(inner), points, XFillMode.Winding);
            if (stroke is { } outer) graphics.DrawLines(new XPen(outer, thickness), points);
        }
    }

    /// <summary>The same page, on which what follows is drawn larger or smaller.</summary>
    public PdfCanvas Scaled(double scale)
    {
        graphics.ScaleTransform(scale);
        return this;
    }

    /// <summary>Draws with the given point as origin, and nothing outside the width and height.</summary>
    public void Clipped(double x, double y, double width, double height, double originX, double originY, Action draw)
    {
        if (width <= 0 || height <= 0) return;
        var state = graphics.Save();
        graphics.IntersectClip(new XRect(x, y, width, height));
        graphics.TranslateTransform(originX, originY);
        draw();
        graphics.Restore(state);
    }

    private void Note(string what, params ReadOnlySpan<double> numbers)
    {
        content.Append(what);
        foreach (var number in numbers) content.Append(CultureInfo.InvariantCulture, $" {number:0.###}");
    }
}
