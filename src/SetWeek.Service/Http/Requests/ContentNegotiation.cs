using Microsoft.Net.Http.Headers;

namespace SetWeek.Service.Http.Requests;

/// <summary>
/// Content negotiation (RFC 9110, section 12.5.1). The most specific matching range gives a type its weight; the type with the
/// highest weight wins, and among equal weights the one offered first.
/// </summary>
public static class ContentNegotiation
{
    /// <param name="accept">The values of the Accept header; without any, every type is accepted.</param>
    /// <returns>One of the offered types; null if the header accepts none of them.</returns>
    public static string? Preferred(IList<string> accept, IReadOnlyList<string> offered)
    {
        if (accept.All(string.IsNullOrWhiteSpace)) return offered[0];
        if (!MediaTypeHeaderValue.TryParseList(accept, out var ranges)) return null;
        return offered
            .Select(type => (Type: type, Weight: WeightOf(type, ranges)))
            .Where(candidate => candidate.Weight > 0)
            .OrderByDescending(candidate => candidate.Weight) // a stable sort keeps the order of the offer
            .Select(candidate => candidate.Type)
            .FirstOrDefault();
    }

    private static double WeightOf(string type, IEnumerable<MediaTypeHeaderValue> ranges)
    {
        var candidate = new MediaTypeHeaderValue(type);
        // Our types have no variants, so parameters of a range (charset, level) are ignored.
        return ranges.Where(range => candidate.IsSubsetOf(new MediaTypeHeaderValue(range.MediaType)))
            .OrderByDescending(Specificity)
            .Select(range => range.Quality ?? 1)
            .FirstOrDefault();
    }

    private static int Specificity(MediaTypeHeaderValue range) => range.MatchesAllTypes ? 0 : range.MatchesAllSubTypes ? 1 : 2;
}
