using System.Globalization;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace SetWeek.Service.Pages.Charts;

/// <summary>Elements of a drawing that stands alone: its looks are attributes, in millimetres, black on white.</summary>
internal static class Svg
{
    private static readonly XNamespace Namespace = "http://www.w3.org/2000/svg";

    public const string Ink = "#000", Soft = "#444", Rule = "#bbb", Tray = "#eee", Paper = "#fff";

    public static XElement Of(string name, params IEnumerable<(string Name, object Value)> attributes) => new(Namespace + name,
        attributes.Select(attribute => new XAttribute(attribute.Name, Text(attribute.Value))));

    public static XElement With(this XElement element, params IEnumerable<object> content)
    {
        foreach (var part in content) element.Add(part is string text ? Text(text) : part);
        return element;
    }

    public static XElement Rect(double x, double y, double width, double height, string fill, string? stroke = null,
        double line = 0.3) => Of("rect", ("x", x), ("y", y), ("width", Math.Max(0, width)), ("height", height), ("fill", fill),
            ("stroke", stroke ?? "none"), ("stroke-width", line));

    public static XElement Line(double x1, double y1, double x2, double y2, double width, string stroke = Ink) =>
        Of("line", ("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2), ("stroke", stroke), ("stroke-width", width));

    public static XElement Label(double x, double y, double size, string text, bool isBold = false, string anchor = "start") =>
        Of("text", ("x", x), ("y", y), ("font-size", size), ("font-weight", isBold ? "600" : "400"), ("text-anchor", anchor))
            .With(text);

    /// <summary>A drawing in the drawing: what reaches out of it is cut off.</summary>
    public static XElement Box(double x, double y, double width, double height, params IEnumerable<object> content) =>
        Of("svg", ("x", x), ("y", y), ("width", Math.Max(0, width)), ("height", height)).With(content);

    /// <summary>The text as XML allows it: names come from users.</summary>
    private static string Text(object value) => value switch
    {
        double number => Math.Round(number, 2).ToString(CultureInfo.InvariantCulture),
        string text => string.Concat(text.EnumerateRunes().Where(IsAllowed)),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };

    private static bool IsAllowed(Rune rune) => !rune.IsBmp || XmlConvert.IsXmlChar((char)rune.Value);
}
