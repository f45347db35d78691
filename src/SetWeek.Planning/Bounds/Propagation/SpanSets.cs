using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>Operations on sets of minutes, each given as disjoint spans in order of time.</summary>
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

    public static IEnumerable<Span> Intersect(IReadOnlyList<Span> first, IReadOnlyList<Span> second) =>
        from a in first
        from b in second
        let both = new Span(Math.Max(a.From, b.From), Math.Min(a.To, b.To))
        where both.Minutes > 0
        select both;

    /// <summary>The minutes that lie in at least <paramref name="count"/> of the sets.</summary>
    public static Span[] CoveredAtLeast(int count, IEnumerable<IReadOnlyList<Span>> sets)
    {
        var steps = sets.SelectMany(set => set)
            .SelectMany(span => new (int Minute, int Step)[] { (span.From, 1), (span.To, -1) })
            .GroupBy(step => step.Minute, step => step.Step).OrderBy(group => group.Key);
        var (found, depth, since) = (new List<Span>(), 0, 0);
        foreach (var step in steps)
        {
            var next = depth + step.Sum();
            if (depth < count && next >= count) since = step.Key;
            if (depth >= count && next < count) found.Add(new(since, step.Key));
            depth = next;
        }
        return [.. found];
    }
}
