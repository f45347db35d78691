using System.Globalization;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Content negotiation (RFC 9110, section 12.5.1): the more specific range wins, then the higher weight, then our order.
/// </summary>
public static class ContentNegotiation
{
    public static string? Preferred(string accept, IReadOnlyList<string> offered)
    {
        if (string.IsNullOrWhiteSpace(accept)) return offered[0];
        var ranges = accept.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Select(ParseRange).ToList();
        return offered
            .Select(type => (type, Weight: ranges.Where(range => Covers(range.Type, type))
                .OrderByDescending(range => Specificity(range.Type))
                .Select(range => range.Weight).FirstOrDefault()))
            .Where(one => one.Weight > 0)
            .OrderByDescending(one => one.Weight) // stable, so that our order decides between equals
            .Select(one => one.type)
            .FirstOrDefault();
    }

    private static (string Type, decimal Weight) ParseRange(string range)
    {
        var parts = range.Split(';', StringSplitOptions.TrimEntries);
        var weight = parts.Skip(1).FirstOrDefault(part => part.StartsWith("q=", StringComparison.OrdinalIgnoreCase));
        return (parts[0].ToLowerInvariant(), weight is null ? 1
            : decimal.TryParse(weight[2..], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) ? value
                : 0);
    }

    private static bool Covers(string range, string type) =>
        range == "*/*" || range == type
            || (range.EndsWith("/*", StringComparison.Ordinal) && type.StartsWith(range[..^1], StringComparison.Ordinal));

    private static int Specificity(string range) => range == "*/*" ? 0 : range.EndsWith("/*", StringComparison.Ordinal) ? 1 : 2;
}
