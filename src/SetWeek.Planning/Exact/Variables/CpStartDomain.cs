namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The moments, in the model's units, at which a job may start on one night in one mode: ranges with both ends in, every
/// <see cref="Stride"/>-th unit after the night's opens. Rules cut pieces out of it before the model is closed.
/// </summary>
internal sealed class CpStartDomain(long from, long to, long opens)
{
    private List<(long From, long To)> ranges = from <= to ? [(from, to)] : [];

    public long Stride { get; private set; } = 1;

    public bool Empty => ranges.Count == 0;
    public long Min => ranges[0].From;
    public long Max => ranges[^1].To;

    public void AtLeast(long moment) => Remove(long.MinValue, moment - 1);

    public void AtMost(long moment) => Remove(moment + 1, long.MaxValue);

    /// <summary>Takes out a range, both ends in.</summary>
    public void Remove(long first, long last)
    {
        if (first > last || Empty || last < Min || first > Max) return;
        var left = new List<(long, long)>(ranges.Count + 1);
        foreach (var range in ranges)
        {
            if (range.To < first || range.From > last)
            {
                left.Add(range);
                continue;
            }
            if (range.From < first) AddSnapped(left, range.From, first - 1);
            if (range.To > last) AddSnapped(left, last + 1, range.To);
        }
        ranges = left;
    }

    /// <summary>Only every so-many-th unit after opens from here on.</summary>
    public void SetStride(long stride)
    {
        Stride = stride;
        var all = ranges;
        ranges = [];
        foreach (var range in all) AddSnapped(ranges, range.From, range.To);
    }

    /// <summary>Bounds of the ranges one after the other, single moments where the stride is more than one unit.</summary>
    public IEnumerable<(long From, long To)> Intervals() => Stride == 1
        ? ranges
        : ranges.SelectMany(range => Values(range.From, range.To).Select(moment => (moment, moment)));

    private IEnumerable<long> Values(long first, long last)
    {
        for (var moment = first; moment <= last; moment += Stride) yield return moment;
    }

    /// <summary>Snapped inward to the stride.</summary>
    private void AddSnapped(List<(long, long)> list, long first, long last)
    {
        first = opens + (first - opens + Stride - 1) / Stride * Stride;
        last = opens + (last - opens) / Stride * Stride;
        if (first <= last) list.Add((first, last));
    }
}
