using System.Text;

namespace SetWeek.Service.Tests.Calendars;

/// <summary>
/// Reads an iCalendar object by RFC 5545 alone: unfolding (section 3.1), components (3.4, 3.6), values of type TEXT (3.3.11).
/// </summary>
internal sealed class CalendarReader
{
    private CalendarReader(string name) => Name = name;

    public string Name { get; }
    public List<CalendarReader> Parts { get; } = [];
    public List<(string Name, string Parameters, string Value)> Lines { get; } = [];

    public IEnumerable<CalendarReader> Events => Parts.Where(part => part.Name == "VEVENT");

    /// <summary>The one value of a property, with its escapes resolved.</summary>
    public string this[string name] => Unescaped(Lines.Single(line => line.Name == name).Value);

    public static CalendarReader Parse(string text)
    {
        // Section 3.1: each line ends with CRLF and has 75 octets at most.
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        var raw = text[..^2].Split("\r\n");
        Assert.All(raw, line =>
        {
            Assert.InRange(Encoding.UTF8.GetByteCount(line), 1, 75);
            Assert.DoesNotContain('\n', line);
            Assert.False(char.IsLowSurrogate(line.TrimStart(' ')[0]), "A fold divides a character.");
        });
        var unfolded = text[..^2].Replace("\r\n ", "", StringComparison.Ordinal).Replace("\r\n\t", "", StringComparison.Ordinal)
            .Split("\r\n");
        var open = new Stack<CalendarReader>([new CalendarReader("")]);
        foreach (var line in unfolded)
        {
            var (head, value) = Divided(line);
            var (name, parameters) = head.Split(';', 2) is [var first, var rest] ? (first, rest) : (head, "");
            if (name == "BEGIN")
            {
                var part = new CalendarReader(value);
                open.Peek().Parts.Add(part);
                open.Push(part);
            }
            else if (name == "END") Assert.Equal(value, open.Pop().Name);
            else open.Peek().Lines.Add((name, parameters, value));
        }
        var calendar = Assert.Single(Assert.Single(open).Parts);
        Assert.Equal("VCALENDAR", calendar.Name);
        // Section 3.6: version, product and at least one component.
        Assert.Equal("2.0", calendar["VERSION"]);
        Assert.NotEmpty(calendar["PRODID"]);
        Assert.NotEmpty(calendar.Parts);
        return calendar;
    }

    /// <summary>A colon within quotes belongs to a parameter.</summary>
    private static (string Head, string Value) Divided(string line)
    {
        for (var (at, quoted) = (0, false); at < line.Length; at++)
            if (line[at] == '"') quoted = !quoted;
            else if (line[at] == ':' && !quoted) return (line[..at], line[(at + 1)..]);
        throw new FormatException($"No value in {line}");
    }

    private static string Unescaped(string value)
    {
        var text = new StringBuilder();
        for (var at = 0; at < value.Length; at++)
            if (value[at] != '\\')
            {
                Assert.False(value[at] is ',' or ';', $"{value} has a character that must be escaped.");
                text.Append(value[at]);
            }
            else text.Append(value[++at] is 'n' or 'N' ? '\n' : value[at]);
        return text.ToString();
    }
}
