using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>Sets of minutes as spans that are apart and in order.</summary>
internal static class SpanSets
{
    public static Span[] Union(IEnumerable<Span> spans)
    {
        var union = new List<Span>();
        foreach (var span in spans.Where(span => span.Minutes > 0).OrderBy(span => span.From))
            if (union.Count > 0 && span.From <= union[^1].To) union[^1] = new(union[^1].From, Math.Max(union[^1].To, span.To));
            else union.Add(span);
        return [.. union];
    }

    public static IEnumerable<Span> Intersect(IReadOnlyList<Span> one, IReadOnlyList<Span> other) =>
        from a in one
        from b in other
        let both = new Span(Math.Max(a.From, b.From), Math.Min(a.To, b.To))
        where both.Minutes > 0
        select both;

    /// <summary>Minutes that at least so many of the sets hold.</summary>
    public static Span[] CoveredAtLeast(int count, IEnumerable<IReadOnlyList<Span>> sets)
    {
        var edges = sets.SelectMany(set => set).SelectMany(span => new (int At, int Step)[] { (span.From, 1), (span.To, -1) })
            .GroupBy(edge => edge.At, edge => edge.Step).OrderBy(edge => edge.Key);
        var (found, held, since) = (new List<Span>(), 0, 0);
        foreach (var edge in edges)
        {
            var next = held + edge.Sum();
            if (held < count && next >= count) since = edge.Key;
            if (held >= count && next < count) found.Add(new(since, edge.Key));
            held = next;
        }
        return [.. found];
    }
}
